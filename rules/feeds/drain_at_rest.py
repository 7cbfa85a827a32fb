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

from collections.abc import Iterator, Mapping
from dataclasses import replace

from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.feeding import find_feed_points, point_words
from planner.engine.making import free_colour
from planner.engine.suiting import parts_of
from planner.model.delta import Make, Operation, Reason
from planner.model.drains import drain_words
from planner.model.elements import Contact, EndUser, Source
from planner.model.need import Emission, Fault, Proposal
from planner.model.reach import joined_inside
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield an ignition feed for what draws at rest, and a switch in its feed."""
    need = case.need
    if not isinstance(need, Fault) or "drain" not in (need.hazard, need.what):
        return
    strain = need.strain
    places = dict.fromkeys(place for place, _ in strain.loads) if strain else case.swapped_places()
    for place in places:
        for at in _fed_at_rest(case, place):
            ends = case.ends_at(at)
            if len(ends) != 1 or len(case.loom.find(ends[0][0]).ends) != 2:
                continue
            wire, number = ends[0]
            far = case.loom.find(wire).ends[1 - number].at
            if case.facts.at(far).nature != "always-live":
                continue
            facts = (f"{case.loom.place_title(place)} is always live and takes {_amount(case, place, at)}",)
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


def _amount(case: Case, place: str, at: str) -> str:
    """What a part takes at rest, and how soon the battery is half empty with that."""
    part, volts = case.part(place), case.loom.supply.volts
    joined = joined_inside(part, at.partition(":")[2]) if part else ()
    amps = 0.0
    for element in part.inside if part else ():
        if isinstance(element, EndUser) and set(joined) & set(element.between):
            watts, ohms = getattr(element, "watts", None), getattr(element, "ohms", None)
            amps += volts / ohms if ohms else (watts or 0.0) / volts
    fitted = (case.catalogue.parts[there.part] for there in case.loom.places.values())
    hours = [e.amp_hours for p in fitted for e in p.inside if isinstance(e, Source) and e.amp_hours]
    taken, _, flat = drain_words(amps, hours[0] if hours else None).partition(": ")
    return f"{taken} at rest ({flat})" if flat else f"{taken} at rest"


def _fed_at_rest(case: Case, place: str) -> Iterator[str]:
    """Yield the wired terminals on which a part takes current with its controls at rest."""
    part = case.part(place)
    if part is None:
        return
    rest: Mapping[str, str] = {name: labels[0] for name, labels in part.variables.items()}
    for mark, terminal in part.terminals.items():
        if terminal.by == "wire" and case.rank_in(part, mark) < 50:
            joined = joined_inside(part, mark, rest)
            if any(isinstance(e, EndUser) and joined & set(e.between) for e in part.inside):
                yield f"{place}:{mark}"
