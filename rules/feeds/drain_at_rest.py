"""What draws current with everything at rest is fed from an ignition feed, or given a switch.

What it looks for
More than 50 mA with everything at rest that was not there before, and a part whose feed is always live and
that takes current as it stands. Less than that, as for a clock or a radio's memory, is told and stays.

Why it matters
0.3 A empty half of a battery of 40 Ah in less than three days; then nothing starts.

Before
A recorder on the constant fuse, always on.

After
Its feed on the ignition fuse, with what it loses said; or a switch in its feed.

Limits
A part that has to remember (a clock, a radio) needs its constant feed: there the switch, or nothing.
Only the part's own feed wire with two ends is moved. The switch is offered, never put in unasked.

Source
common practice, no source
"""

from collections.abc import Iterator
from dataclasses import replace

from planner.engine.at_rest import fed_at_rest, taken_at_rest
from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.feeding import find_feed_points, point_words
from planner.engine.making import free_colour
from planner.engine.suiting import parts_of
from planner.model.delta import Make, Operation, Reason
from planner.model.elements import Contact
from planner.model.need import Emission, Fault, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield an ignition feed for what draws at rest, and a switch in its feed."""
    need = case.need
    if not isinstance(need, Fault) or "drain" not in (need.hazard, need.what):
        return
    strain = need.strain
    places = dict.fromkeys(place for place, _ in strain.loads) if strain else case.swapped_places()
    for place in places:
        for at in fed_at_rest(case, place):
            ends = case.ends_at(at)
            if len(ends) != 1 or len(case.loom.find(ends[0][0]).ends) != 2:
                continue
            wire, number = ends[0]
            far = case.loom.find(wire).ends[1 - number].at
            if case.facts.at(far).nature != "always-live":
                continue
            facts = (
                f"{case.loom.place_title(place)} is always live and takes {taken_at_rest(case, place, at)}",
            )
            why = Reason("drain-at-rest", facts)
            points = [p for p in find_feed_points(case, "ignition-live", at) if p.has_room and p.fact.fuse]
            for point in points[:1]:
                own: tuple[str, ...] = (*facts, f"{point_words(case, point)} is live with the ignition only")
                made: tuple[Operation, ...] = ()
                if wire not in case.before.wire_index:
                    record = case.loom.find(wire)
                    colour, about = free_colour(case, case.role(point.at), record)
                    made = (Make(record.model_copy(update={"colour": (colour,)}), record),)
                    own += (f"so not in the colour of a constant feed: {about}",)
                yield Proposal((*made, case.put(wire, 1 - number, point.at)), replace(why, facts=own))
            switches = [(p, e) for p in parts_of(case, "in-line") for e in p.inside if isinstance(e, Contact)]
            for part, contact in switches[:1]:
                enters, leaves = contact.join[:2]
                own = (
                    *facts,
                    f"a switch at {address_words(case.loom, at)} takes it off while the vehicle stands",
                )
                operation = draft_insert(case, wire, number, part, enters, leaves)
                yield Proposal((operation,), replace(why, facts=own), offer=True)
