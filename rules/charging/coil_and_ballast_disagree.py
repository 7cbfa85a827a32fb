"""An ignition coil made for a ballast resistor gets one; a coil made for the full volts loses it.

What it looks for
A coil whose spark is stronger or weaker than before, and its winding's volts against those of the supply.

Why it matters
A ballast coil on the full volts overheats and burns the points; a full-volt coil behind a resistor gives a
weak spark, and the engine does not start when it is cold.

Before
A coil for 6 V and 4 A on the ignition switch.

After
A resistor of (12 V - 6 V) / 4 A = 1.5 ohms in its feed; or the feed of a 12 V coil before the resistor.

Limits
A resistor counts as right within a tenth of the computed ohms, with at least 1.5 times the watts burnt
while the points are closed. Resistance wire is a part with ohms like any other: copper never takes its place.
Which feed bridges the resistor while the starter turns is not looked at.

Source
common practice, no source
"""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.engine.drafting import draft_insert
from planner.engine.resistors import find_resistor
from planner.model.delta import Reason
from planner.model.elements import Resistor, Winding
from planner.model.loom import split_address
from planner.model.need import Emission, Fault, Proposal
from planner.model.part import Part
from planner.model.reach import conductor
from planner.model.wording import address_words, small

RULE = "coil-and-ballast-disagree"
OHMS_SHARE = 0.1  # how far a resistor may be off: common practice, no source
FAMILY = "resistor"


def propose(case: Case) -> Iterator[Emission]:
    """Yield a resistor in the feed of a coil, or the coil's feed before the resistor that is there."""
    need = case.need
    part = case.part(need.at) if isinstance(need, Fault) else None
    if not isinstance(need, Fault) or part is None or part.family != "ignition":
        return
    supply = case.loom.supply.volts
    for winding in part.inside:
        if not isinstance(winding, Winding):
            continue
        volts = winding.volts or part.volts
        amps = winding.watts / volts
        at = f"{need.at}:{winding.between[0]}"
        fitted = list(_resistors_on(case, at))
        if volts < supply and not fitted:
            yield from _inserted(
                case, at, (supply - volts) / amps, (supply - volts) * amps, small(part.title)
            )
        elif volts >= supply:
            for first, last in fitted:
                ends = [end for end in case.ends_at(last) if at in conductor(case.loom, at)]
                facts = (
                    f"the {small(part.title)} is made for {volts:g} V",
                    f"{address_words(case.loom, last)} is behind a resistor, "
                    f"{address_words(case.loom, first)} before it",
                )
                yield Proposal(tuple(case.put(*end, first) for end in ends), Reason(RULE, facts))


def _inserted(case: Case, at: str, ohms: float, watts: float, coil: str) -> Iterator[Proposal]:
    """Yield a resistor of the catalogue in the wire on a coil's feed terminal."""
    fact = f"the {coil} wants {ohms:.3g} ohms before it, which burn {watts:.3g} W with the points closed"
    span = (ohms * (1 - OHMS_SHARE), ohms * (1 + OHMS_SHARE))
    found = find_resistor(case, FAMILY, span, lambda _: watts)
    ends = case.ends_at(at)
    if found is not None and ends:
        part, resistor = found
        enters, leaves = resistor.between
        operation = draft_insert(case, *ends[0], part, enters, leaves, mounting="metal")
        facts = (fact, f"the {small(part.title)} has them")
        yield Proposal((operation,), Reason(RULE, facts))


def _resistors_on(case: Case, at: str) -> Iterator[tuple[str, str]]:
    """Yield both terminals of each ballast resistor on a conductor, the one that is on it last."""
    for address in conductor(case.loom, at):
        place, mark = split_address(address)
        part: Part | None = case.part(place)
        for element in part.inside if part and part.family == FAMILY else ():
            if isinstance(element, Resistor) and mark in element.between:
                other = element.between[0] if mark == element.between[1] else element.between[1]
                yield f"{place}:{other}", address
