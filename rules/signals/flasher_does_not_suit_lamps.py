"""A flasher that does not suit its lamps is exchanged, or the lamps are helped with a load resistor.

What it looks for
Signal lamps that no longer flash, or a flasher that switches too much, and on the way a flasher unit that
needs more current than one side takes, or is made for less.

Why it matters
A thermal flasher beats by the heat of its lamps' current: with light-emitting lamps it stands still, with a
trailer it burns.

Before
Front lamps of 21 W, rear ones of 3 W on a flasher that needs 2.6 A: 2.0 A flow and nothing beats.

After
An electronic unit on the same terminals; or beside one lamp of each side a resistor that takes what is
missing: 12 V / 0.6 A = 20 ohms at most.

Limits
Watts are taken at the volts of the supply, in the position in which a lamp no longer flashes. A resistor is
chosen with at most the computed ohms and at least 1.5 times what it burns without a pause, although it is on
for half of the time; it gets hot. Against too much current only another unit helps. A unit that the job
itself fits is not exchanged.

Source
common practice, no source
"""

from collections.abc import Iterator
from math import inf

from planner.engine.case import Case
from planner.engine.earthing import earth_near
from planner.engine.exchanging import parts_that_take_the_wires
from planner.engine.resistors import draft_beside, find_resistor
from planner.engine.signals import Side, amps_fed, flasher_at_fault, sides
from planner.model.delta import Operation, Reason
from planner.model.elements import Flasher
from planner.model.need import Emission, Fault, Proposal
from planner.model.wording import address_words, small


def propose(case: Case) -> Iterator[Emission]:
    """Yield another flasher unit, and load resistors beside it."""
    need = case.need
    if not isinstance(need, Fault) or not (need.duty == "signal" or need.what.startswith("flasher-")):
        return
    at = flasher_at_fault(case, need)
    if at is None:
        return
    place, flasher = at
    found = sides(case, f"{place}:{flasher.between[1]}")
    least, most = (pick((s.amps for s in found), default=0.0) for pick in (min, max))
    if need.strain is not None:  # what flows in truth outranks the watts
        least, most = min(least, need.strain.value), max(most, need.strain.value)
    elif need.positions:  # a side may hang together only in that position, or without its trailer
        flowing = amps_fed(case, f"{place}:{flasher.between[1]}", need.positions[0])
        least, most = (least, most) if not flowing else (min(least, flowing), max(most, flowing))
    is_starved = least < flasher.needs_amps
    if not found or not (is_starved or most > (flasher.most_amps or inf)):
        return
    limits = f"needs {flasher.needs_amps:g} A"
    if not is_starved:
        limits = f"is made for {flasher.most_amps:g} A"
    title = case.loom.place_title(place)
    fact = f"the {title} {limits}; the lamps of one side take {least if is_starved else most:.2g} A"
    suited = 0
    for part, operations in parts_that_take_the_wires(case, place):
        units = [e for e in part.inside if isinstance(e, Flasher)]
        if any(u.needs_amps <= least and most <= (u.most_amps or inf) for u in units):
            facts = (fact, f"the {small(part.title)} suits them and takes the same wires")
            yield Proposal(operations, Reason("flasher-does-not-suit-lamps", facts), offer=suited > 0)
            suited += 1
    if is_starved:
        yield from _resistors(
            case, [s for s in found if s.amps < flasher.needs_amps], flasher, fact, suited > 0
        )


def _resistors(
    case: Case, starved: list[Side], flasher: Flasher, fact: str, is_offer: bool
) -> Iterator[Proposal]:
    """Yield a resistor beside one lamp of each side that takes too little."""
    volts = case.loom.supply.volts
    operations: tuple[Operation, ...] = ()
    facts = [fact]
    for side in starved:
        amps = flasher.needs_amps - side.amps
        most_ohms = volts / amps
        found = find_resistor(case, "resistor", (0.0, most_ohms), lambda ohms: volts * volts / ohms)
        if found is None:
            return
        part, resistor = found
        lamp = side.terminals[-1]
        operations += draft_beside(case, part, lamp, earth_near(case, lamp))
        watts = volts * volts / resistor.ohms
        facts.append(
            f"{address_words(case.loom, lamp)}: {volts:g} V / {amps:.2g} A are {most_ohms:.3g} ohms at most; "
            f"{resistor.ohms:g} ohms burn {watts:.3g} W without a pause"
        )
    if operations:
        yield Proposal(operations, Reason("flasher-does-not-suit-lamps", tuple(facts)), offer=is_offer)
