"""Push-on terminals: what goes from the wires into a part through one tab, piggybacks included."""

from collections.abc import Iterator

from planner.currents.checks.inspection import Inspection
from planner.currents.sample import Sample
from planner.currents.survey import SAME
from planner.model.strain import Strain

LEAST_AMPS = 0.01  # less is no load


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield the most that each blade carries for longer than a moment."""
    found = _most(seen)
    for address in sorted(found):
        place, _, mark = address.partition(":")
        fitted = seen.loom.places.get(place)
        if fitted is None:
            continue
        terminal = seen.catalogue.parts[fitted.part].terminals[mark]
        thickest = max(seen.loom.find(wire).end_mm2(end) for wire, end in seen.loom.ends_at.get(address, ()))
        limit = seen.standards.tab_amps(terminal.fitting, thickest)
        if limit is None:
            continue
        amps, sample, legs = found[address]
        largest = max(legs, key=lambda i: abs(sample.amps[i]))
        loads = seen.loads_in(largest, sample) if amps > limit.value / 2 else ()
        yield Strain(
            "tab", address, amps, limit.value, "A", limit.source, limit.basis,
            seen.told(sample), loads, note=terminal.fitting,
            path=seen.way(loads, sample) if amps > limit.value else (),
        )  # fmt: skip


def _most(seen: Inspection) -> dict[str, tuple[float, Sample, list[int]]]:
    """By address the most that its legs together carry into the part for good, where, and which they are."""
    legs: dict[str, list[int]] = {}
    into: dict[int, tuple[str, str]] = {}  # leg: where its current goes into a part, and where out of one
    for index, branch in seen.of_kind("wire"):
        into[index] = (branch.b, branch.a)
        for address in (branch.b, branch.a):
            legs.setdefault(address, []).append(index)
    least: dict[str, float] = {}  # from where on a current is the most so far
    found: dict[str, tuple[float, Sample, list[int]]] = {}
    for sample in seen.lasting_samples:
        sums: dict[str, float] = {}
        own = sample.amps
        for index in sample.live:
            if index in into:
                into_part, out = into[index]
                amps = own[index]
                sums[into_part] = sums.get(into_part, 0.0) + amps
                sums[out] = sums.get(out, 0.0) - amps
        for address, total in sums.items():
            if abs(total) > least.get(address, LEAST_AMPS):
                least[address] = abs(total) + SAME
                found[address] = (abs(total), sample, legs[address])
    return found
