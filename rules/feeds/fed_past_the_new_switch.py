"""What a new switch is to feed is fed past it: its feed goes on the switch, and a wire from the switch to it.

What it looks for
A bare feed terminal of a switch in a new place, and a bare output beside it that a contact joins to it; and a
terminal of the output's role on another part of the same zone, to which one end still brings just that feed.

Why it matters
With a feed of its own and its output covered the switch switches nothing: the flasher stays on the ignition,
and the hazard is dead with the key out, which is when it is wanted.

Before
The ignition feed on 49 of a flasher; a hazard switch with 15, 30 and 49 in a new place.

After
That feed on 15 of the hazard switch, and a new wire from its 49 to 49 of the flasher.

Limits
Only where that end is alone on its terminal, and only within a zone. An end in the middle of a chain goes
with both its wires, so what lies beyond stays fed.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_wire
from planner.engine.feeding import NATURE_WANTED, natures_on
from planner.model.delta import EndRef, Reason
from planner.model.elements import Contact
from planner.model.loom import split_address
from planner.model.need import BareTerminal, Emission, Proposal
from planner.model.wording import address_words


def propose(case: Case) -> Iterator[Emission]:
    """Yield the feed on the new switch, and a wire from its output to what was fed."""
    need = case.need
    if not isinstance(need, BareTerminal) or split_address(need.at)[0] in case.before.places:
        return
    for out in _outputs(case, need.at):
        for fed, (wire, end) in _fed_past(case, need.at, case.role(out)):
            facts = (
                f"{case.end_now(wire, end)} feeds {address_words(case.loom, fed)}, past the new switch",
                f"{address_words(case.loom, need.at)} wants just that feed, and "
                f"{address_words(case.loom, out)} has the role of what it feeds",
            )
            why = Reason("fed-past-the-new-switch", facts, leans_on=((wire, end),))
            move = case.put(wire, end, need.at)
            yield Proposal((move, draft_wire(case, out, fed, case.role(out))), why)


def _outputs(case: Case, at: str) -> Iterator[str]:
    """Yield each bare terminal of another role that a contact of the part joins to a feed terminal."""
    place, mark = split_address(at)
    part = case.part(place)
    for contact in part.inside if part else ():
        if isinstance(contact, Contact) and mark in contact.join:
            for other in contact.join:
                out = f"{place}:{other}"
                if case.role(out) not in (None, case.role(at)) and not case.ends_at(out):
                    yield out


def _fed_past(case: Case, at: str, role: str | None) -> Iterator[tuple[str, EndRef]]:
    """Yield each terminal of a role that one end alone feeds as a feed terminal wants it, and that end."""
    wanted = [{nature} for nature, wants in NATURE_WANTED.items() if wants == case.wants(at)]
    for place, fitted in case.loom.places.items():
        part = case.catalogue.parts[fitted.part]
        if place == split_address(at)[0] or fitted.zone != case.zone(at):
            continue
        for mark, terminal in part.terminals.items():
            fed = f"{place}:{mark}"
            ends = case.ends_at(fed)
            if terminal.role != role or len(ends) != 1:
                continue
            if natures_on(case, fed) in wanted:
                yield fed, ends[0]
