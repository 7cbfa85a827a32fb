"""The new terminal has the role of the old one, but one of them names a side of the vehicle.

What it looks for
An end whose old terminal had a role such as 58 where the new part has only 58L or 58R, or the reverse.

Why it matters
58 and 58L are one kind of duty. Read as different roles, the end would be tied back live and a wire be made
from elsewhere, perhaps from the fuse of the other side.

Before
The tail wire sat on a terminal with role 58.

After
It goes to the new part's terminal with role 58L.

Limits
A terminal of the very role comes first. Where the part has terminals for both sides one end cannot serve
both, and this rule is quiet; so it is from one side to the other.

Source
DIN 72552
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words

SIDES = ("L", "R")


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to each terminal of the role that differs only in naming a side."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    role, place = case.old_role(need.was), split_address(need.was)[0]
    part = case.part(place)
    if role is None or part is None:
        return
    roles = {mark: t.role for mark, t in part.terminals.items() if t.by == "wire" and t.role is not None}
    near = {other for other in roles.values() if _differ_in_side(role, other)}
    if role in roles.values() or len(near) != 1:
        return
    (other,) = near
    end = case.old_end(need.wire, need.end)
    for address in (f"{place}:{mark}" for mark, given in roles.items() if given == other):
        facts = (
            f"{end} was on {address_words(case.before, need.was)}: {case.role_words(role)}",
            f"{address_words(case.loom, address)} is {case.role_words(other)}: the same but for the side",
        )
        why = Reason("same-role-of-one-side", facts, case.role_source(role), ((need.wire, need.end),))
        yield Proposal((case.put(need.wire, need.end, address),), why)


def _differ_in_side(one: str, other: str) -> bool:
    """Whether one role is the other with a side added."""
    return any(one == other + side or other == one + side for side in SIDES)
