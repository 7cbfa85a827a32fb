"""An end whose terminal the new part lacks goes to the terminal that was the same node in the old part.

What it looks for
A loose end whose old terminal has no counterpart on the new part, but was joined inside the old part at all
times with another terminal, whose role the new part has.

Why it matters
Reproductions leave out the small taps: the wire is still wanted, and the node it tapped is still there under
another terminal.

Before
The main-beam indicator on a small tap of the fuse box, joined inside to the main-beam output.

After
The indicator's wire shares the main-beam output.

Limits
Only joints inside the part that hold in every position count, never one through a fuse or a contact that
opens, and never a generator's field put on its output. If the terminal then carries too many ends, that is
settled next.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.feeding import belongs_to_regulator
from planner.model.delta import Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.reach import joined_inside
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to each node that takes the place of the old terminal's node."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    parts = case.parts_without_role(need.was)
    if parts is None:
        return
    (old, new), (place, mark) = parts, split_address(need.was)
    seen: set[str] = set()
    for equal in (m for m in old.terminals if m in joined_inside(old, mark) and m != mark):
        role = old.terminals[equal].role
        if belongs_to_regulator(case, need.was, f"{place}:{equal}"):
            continue
        same = [m for m, t in new.terminals.items() if role and t.role == role and t.by == "wire"]
        same = [m for m in same if m == equal] or same
        for target in sorted(same, key=lambda m: case.room(f"{place}:{m}") < 1):
            if target not in seen:
                seen |= joined_inside(new, target)
                move = case.put(need.wire, need.end, f"{place}:{target}")
                yield Proposal((move,), _why(case, need, equal, target))


def _why(case: Case, need: LooseEnd, equal: str, target: str) -> Reason:
    """Say where the end was, what was the same node, and where that node is now."""
    place = split_address(need.was)[0]
    role = case.old_role(f"{place}:{equal}") or ""
    end, was = case.old_end(need.wire, need.end), address_words(case.before, need.was)
    facts = (
        f"{end} was on {was}, which the new part lacks",
        f"inside the old part that was the same node as {equal}: {case.role_words(role)}",
        f"{address_words(case.loom, f'{place}:{target}')} has that role",
    )
    return Reason("missing-terminal-equal-node", facts, case.role_source(role), ((need.wire, need.end),))
