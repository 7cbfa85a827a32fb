"""A plain contact between two terminals works in a feed as in a return: its wires go onto another one.

What it looks for
A loose end of a part that was nothing but one contact, between two wires or between a wire and its mounting,
and a new part that is one contact between two wires, closed in the positions in which the old one was, whose
terminals have other roles because its maker meant it for the other side of the load.

Why it matters
A horn push with two screws does not know on which side of the horn it sits. Tied back because the marks say
otherwise, its wires leave the horn dead, and a feed is made to it that nobody needs.

Before
A horn push in the horn's return, marked H and E; the new one is marked 30 and 71.

After
The wire from the horn goes to 30, the one to earth to 71. Where the old push was earthed by its mounting, a
wire is made from 71 to earth.

Limits
Not for a part that lights, draws or holds anything itself, nor for a new one that its mounting earths. The
end nearer to the live pole goes to the terminal that is meant to be nearer to it.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_near
from planner.engine.plain_contacts import plain_sides
from planner.engine.removed import has_lost_its_other_end
from planner.model.delta import Operation, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.terminal_maps import equal_outputs
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to that side of the new contact."""
    need = case.need
    parts = case.parts_without_role(need.was) if isinstance(need, LooseEnd) else None
    if not isinstance(need, LooseEnd) or parts is None or has_lost_its_other_end(case, need.was):
        return
    (old, new), (place, mark) = parts, split_address(need.was)
    was, now = plain_sides(case, old), plain_sides(case, new)
    if was is None or now is None or mark not in was or now[1] not in equal_outputs(old, new, was, now[0]):
        return
    if any(new.terminals[each].by == "mounting" for each in now):
        return
    target = f"{place}:{now[was.index(mark)]}"
    facts = [
        f"{case.old_end(need.wire, need.end)} was on {address_words(case.before, need.was)}, a side of the "
        "only contact of the old part",
        "the new part is one contact as well, closed in the same positions: "
        f"{address_words(case.loom, target)} is that side of it",
    ]
    operations: list[Operation] = [case.put(need.wire, need.end, target)]
    side = 1 - was.index(mark)
    other, earthed = f"{place}:{now[side]}", case.before.places[place].mounting == "metal"
    if old.terminals[was[side]].by == "mounting" and earthed and not case.ends_at(other):
        facts.append(f"its other side was earthed by its mounting: {address_words(case.loom, other)} is not")
        operations.append(draft_wire(case, other, earth_near(case, other), "31"))
    why = Reason("plain-contact-either-way", tuple(facts), leans_on=((need.wire, need.end),))
    yield Proposal(tuple(operations), why)
