"""Push-on terminals: what goes from the wires into a part through one tab, piggybacks included.

All of it is held against the test of one blade: nobody knows how the wires are spread over several.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from math import copysign

from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.model.published import Published
from planner.model.strain import Brought, Strain

LEAST_AMPS = 0.01  # less is no load
Legs = Sequence[tuple[int, float]]  # branches; 1 where a current from first node to second goes into the part


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield the most that each blade carries for longer than a moment."""
    for address, legs in sorted(_legs(seen).items()):
        place, _, mark = address.partition(":")
        fitted = seen.loom.places.get(place)
        if fitted is None:
            continue
        terminal = seen.catalogue.parts[fitted.part].terminals[mark]
        ends = seen.loom.ends_at.get(address, ())
        wires = tuple([seen.loom.find(wire) for wire, _ in ends])
        make = partial(_limit, seen, terminal.fitting, ends)
        limit = next(iter(seen.once(("tab limit", address), wires, make)), None)
        most = _most(seen, legs) if limit is not None else None
        if limit is None or most is None:
            continue
        tab = partial(_tab, seen, address, legs, limit, most)
        yield from seen.once(("tab", address), (*wires, *most), tab)


def _limit(seen: Inspection, fitting: str, ends: Sequence[tuple[str, int]]) -> Iterator[Published]:
    """Yield what a terminal carries with the thickest of its wires, if that is known."""
    thickest = max(seen.loom.find(wire).end_mm2(end) for wire, end in ends)
    limit = seen.standards.tab_amps(fitting, thickest)
    if limit is not None:
        yield limit


def _tab(
    seen: Inspection, address: str, legs: Legs, limit: Published, most: tuple[float, Sample]
) -> Iterator[Strain]:
    amps, sample = most
    place, _, mark = address.partition(":")
    fitting = seen.part_of(place).terminals[mark].fitting
    # What one wire brings another may lead on: each counts by its way, and for no more than all together.
    brought = {index: sign * sample.amps[index] for index, sign in legs}
    total = sum(brought.values())
    largest = max(brought, key=lambda index: copysign(1.0, total) * brought[index])
    _, wire, leg = seen.branch(largest).name
    most_in = Brought(wire, int(leg), min(abs(brought[largest]), abs(total))) if len(legs) > 1 else None
    loads = seen.loads_in(largest, sample) if amps > limit.value / 2 else ()
    yield Strain(
        "tab", address, amps, limit.value, "A", limit.source, limit.basis,
        sample.told, loads, note=fitting,
        path=seen.way(loads, sample) if amps > limit.value else (),
        ends=tuple(sorted(seen.loom.ends_at[address])), most_in=most_in,
    )  # fmt: skip


def _legs(seen: Inspection) -> Mapping[str, Legs]:
    """The legs of wires by the addresses that they end at."""
    found: dict[str, list[tuple[int, float]]] = {}
    for index, branch in seen.of_kind("wire"):
        found.setdefault(branch.b, []).append((index, 1.0))
        found.setdefault(branch.a, []).append((index, -1.0))
    return found


def _most(seen: Inspection, legs: Legs) -> tuple[float, Sample] | None:
    """The most that some legs together carry into a part for good, and where."""
    if len(legs) == 1:
        peak = seen.survey.carried.lasting_peaks.get(legs[0][0])
        return (peak.amps, peak.sample) if peak is not None and peak.amps > LEAST_AMPS else None
    return seen.survey.carried.most_together(legs, LEAST_AMPS)
