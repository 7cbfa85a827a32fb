"""A warning lamp whose other lead sat on a terminal that is gone is joined to what that terminal was.

What it looks for
A small lamp that the proof found lost or changed, with a wire that came off a removed part and hangs loose,
because the new part has no terminal for it.

Why it matters
A tell-tale has no earth of its own: it lights between two points of a circuit. With one of them gone it is
dark, or it lights through something else's lamps.

Before
The indicator's lead sat on a tap of the flasher unit; the new unit has none.

After
The lead goes to the terminal that the tap was joined to inside, or to the body if the tap went to earth.

Limits
Lamps of 5 W or less that serve no road function, and a lead that nothing else feeds. Three ways at most, in
the order of the old part's contacts.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.earthing import earth_near
from planner.engine.feeding import has_own_supply
from planner.model.delta import Operation, Piggyback, Reason
from planner.model.elements import Contact, Lamp, Led
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Proposal
from planner.model.wording import address_words

MOST_WATTS = 5.0  # small lamps only; common practice, no source


def propose(case: Case) -> Iterator[Emission]:
    """Yield moves of the loose lead to a terminal that stands for the one that is gone."""
    need = case.need
    if not isinstance(need, Fault) or need.kind not in ("lost", "changed"):
        return
    part = case.part(need.at)
    lamp = next((e for e in part.inside if getattr(e, "does", None) == need.what), None) if part else None
    if not isinstance(lamp, Lamp | Led) or lamp.watts > MOST_WATTS or lamp.duty != "none":
        return
    found = 0
    for mark in lamp.between:
        addresses = case.facts.at(f"{need.at}:{mark}").addresses
        for place in case.swapped_places():
            for wire, end, was in case.freed_ends(place):
                if was not in addresses or has_own_supply(case, was):
                    continue
                for target in _stand_ins(case, was):
                    facts = (
                        f"{case.old_end(wire, end)} of {need.what} sat on {address_words(case.before, was)}, "
                        "which is gone",
                        f"{address_words(case.loom, target)} is what it was joined to",
                    )
                    why = Reason("indicator-lost-return", facts, leans_on=((wire, end),))
                    operations: tuple[Operation, ...] = (case.put(wire, end, target),)
                    if case.room(target) < 1:
                        operations = (Piggyback(target), *operations)
                    found += 1
                    if found <= 3:
                        yield Proposal(operations, why)


def _stand_ins(case: Case, was: str) -> Iterator[str]:
    """Yield terminals of the new part with the role of one that the old terminal was joined to, or earth."""
    place, mark = split_address(was)
    old, new = case.old_part(place), case.part(place)
    if old is None or new is None:
        return
    joined = {m for e in old.inside if isinstance(e, Contact) and mark in e.join for m in e.join} - {mark}
    roles = {old.terminals[m].role for m in joined if m in old.terminals} - {None}
    for other, terminal in new.terminals.items():
        at = f"{place}:{other}"
        if (
            terminal.role in roles
            and terminal.by == "wire"
            and (case.room(at) > 0 or case.takes_piggyback(at))
        ):
            yield at
    if case.facts.at(was).earthed == "always":
        yield earth_near(case, was)
