"""A relay that the job fits, and that the old switch in the return works, feeds the load.

What it looks for
A fitted part whose mounting earths its load, where the old part's return went to earth through a switch, and
that return now on the coil of a relay that the job fits. Asked when the proof finds the load on when it
should be off, current with everything at rest, or the load lost.

Why it matters
The relay is bought for just that: the switch goes on earthing, but a coil. Left on the load, its old feed
keeps it on for ever; taken off, the relay has nothing to switch.

Before
The feed of an insulated horn on a horn that earths itself, the push's wire on the coil of a horn relay.

After
The feed on the relay, which its coil and contact share, and a wire from the contact to the horn.

Limits
The relay's coil and contact share a terminal, as a horn relay's do. Where that terminal has no room left,
only the wire to the load is made and the old feed is insulated.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.earthing import return_facts, returns_at_fault
from planner.model.delta import Cover, Operation, Reason
from planner.model.elements import Coil, Contact
from planner.model.loom import split_address
from planner.model.need import Emission, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield the feed on the relay's shared terminal and a wire from its contact to the load."""
    for place, found in returns_at_fault(case):
        wire, end, _ = found.back
        coil = case.loom.find(wire).ends[end].at
        for shared, out in _shared_and_out(case, coil):
            if case.ends_at(out):
                continue
            on_load = [f for f in found.feeds if f in case.ends_at(found.feed)]
            feed: list[Operation] = [case.put(*f, shared) for f in on_load]
            if case.room(shared) < len(on_load):
                feed = [o for f in on_load for o in (case.put(*f, "loose"), Cover(found.feed, *f))]
            facts = (
                *return_facts(case, place, found),
                f"it works the relay on {address_words(case.loom, coil)}, whose coil and contact share "
                f"{address_words(case.loom, shared)}",
            )
            why = Reason("fitted-relay-takes-the-feed", facts, leans_on=((wire, end),))
            yield Proposal((*feed, draft_wire(case, out, found.feed, case.role(out))), why)


def _shared_and_out(case: Case, coil: str) -> Iterator[tuple[str, str]]:
    """Yield the terminal that coil and contact of a fitted relay share, and the contact's other one."""
    place, mark = split_address(coil)
    part = case.part(place) if case.is_swapped(place) else None
    for element in part.inside if part else ():
        if isinstance(element, Coil) and mark in element.between:
            (shared,) = set(element.between) - {mark}
            for contact in part.inside if part else ():
                if isinstance(contact, Contact) and shared in contact.join and element.name in contact.when:
                    yield from ((f"{place}:{shared}", f"{place}:{m}") for m in contact.join if m != shared)
