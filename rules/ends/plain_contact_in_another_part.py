"""A switch comes out, and a new part beside it has its contact built in: the wires go onto that one.

What it looks for
A loose end of a part that was nothing but one contact and comes out for good, and one contact of another
fitted part that is closed in the same positions, whose terminals nothing else meets, and of which the name of
the control or the role of a terminal says that it is for the same.

Why it matters
Later levers have the horn push, the flash or the washer in them. Its maker meant it for the feed, the vehicle
has it in the return; tied back, the old wire leaves the horn dead beside a push that would work it.

Before
A horn push on the handlebar, earthed by it, in the horn's return; a new dip lever with a push between 30 and
71.

After
The wire from the horn goes to 30 and a wire is made from 71 to earth: the push stays in the return.

Limits
Not where two contacts would do, nor where the old one only switched what came out as well. The end nearer to
the live pole goes to the terminal that is meant to be nearer to it.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import earth_near
from planner.engine.plain_contacts import contacts_instead, plain_sides
from planner.engine.removed import has_lost_its_other_end
from planner.model.delta import Operation, Reason
from planner.model.loom import split_address
from planner.model.need import Emission, LooseEnd, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield a move to that side of the other part's contact, and its earth where the mounting gave that."""
    need = case.need
    if not isinstance(need, LooseEnd):
        return
    place, mark = split_address(need.was)
    old = case.old_part(place)
    was = plain_sides(case, old) if old is not None and case.part(place) is None else None
    if old is None or was is None or mark not in was or has_lost_its_other_end(case, need.was):
        return
    found = list(contacts_instead(case, need.was))
    if len(found) != 1:
        return
    (there, now), side = found[0], was.index(mark)
    target, other = f"{there}:{now[side]}", f"{there}:{now[1 - side]}"
    facts = [
        f"{case.old_end(need.wire, need.end)} was on {address_words(case.before, need.was)}, a side of the "
        "only contact of a part that comes out",
        f"the {case.loom.place_title(there)} has a contact that is closed in the same positions: "
        f"{address_words(case.loom, target)} is that side of it",
    ]
    operations: list[Operation] = [case.put(need.wire, need.end, target)]
    earthed = case.before.places[place].mounting == "metal"
    if old.terminals[was[1 - side]].by == "mounting" and earthed and not case.ends_at(other):
        facts.append(f"its other side was earthed by its mounting: {address_words(case.loom, other)} is not")
        operations.append(draft_wire(case, other, earth_near(case, other), "31"))
    why = Reason("plain-contact-in-another-part", tuple(facts), leans_on=((need.wire, need.end),))
    yield Proposal(tuple(operations), why)
