"""Charging outputs of generators, and the ammeters on their way that end below what they give.

A magneto gives current as well, but to its own spark; no battery is charged by it.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.model.elements import Gauge, Source
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor

MAGNETO_STOP = "2"  # the role of what is earthed so that a magneto gives no spark


def is_for_the_spark(part: Part) -> bool:
    """Whether a source's part is a magneto: all that its terminals are for is to stop it."""
    return {t.role for t in part.terminals.values() if t.by == "wire"} == {MAGNETO_STOP}


@dataclass(frozen=True, slots=True)
class SmallAmmeter:
    """An ammeter whose scale ends below what a generator sends through it."""

    place: str
    gauge: Gauge
    output: str  # the generator's, as an address
    most_amps: float  # of that output


def charging_outputs(part: Part) -> Iterator[tuple[str, float]]:
    """Yield each charging output of a generator with the most that it gives."""
    for element in part.inside:
        if isinstance(element, Source) and element.when and element.most_amps:
            terminal = part.terminals.get(element.between[0])
            if terminal is not None and terminal.role == "B+":
                yield element.between[0], element.most_amps


def ammeters_too_small(loom: Loom, parts: Mapping[str, Part], place: str) -> Iterator[SmallAmmeter]:
    """Yield the ammeters that the wires of a place's charging outputs lead to and that end too low.

    A voltmeter hangs beside the way: however little it takes, the output does not go through it.
    """
    fitted = loom.places.get(place)
    for mark, most_amps in charging_outputs(parts[fitted.part]) if fitted else ():
        output = f"{place}:{mark}"
        for address in conductor(loom, output):
            at, on = split_address(address)
            there = loom.places.get(at)
            for element in parts[there.part].inside if there else ():
                if (
                    isinstance(element, Gauge)
                    and element.is_in_series
                    and on in element.between
                    and element.full_scale_amps < most_amps
                ):
                    yield SmallAmmeter(at, element, output, most_amps)
