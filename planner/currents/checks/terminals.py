"""Push-on terminals: what goes from the wires into a part through one tab, piggybacks included."""

from collections.abc import Iterator

from planner.currents.checks.inspection import Inspection
from planner.currents.survey import SAME, Sample
from planner.model.strain import Strain


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield the most that each blade carries for longer than a moment."""
    wires: dict[str, list[tuple[int, float]]] = {}  # address: legs there, and which way is into the part
    for index, branch in seen.of_kind("wire"):
        wires.setdefault(branch.b, []).append((index, 1.0))
        wires.setdefault(branch.a, []).append((index, -1.0))
    for address in sorted(wires):
        place, _, mark = address.partition(":")
        fitted = seen.loom.places.get(place)
        if fitted is None:
            continue
        terminal = seen.catalogue.parts[fitted.part].terminals[mark]
        thickest = max(seen.loom.find(wire).end_mm2(end) for wire, end in seen.loom.ends_at.get(address, ()))
        limit = seen.standards.tab_amps(terminal.fitting, thickest)
        found = _most(seen, wires[address])
        if limit is None or found is None:
            continue
        amps, sample = found
        largest = max((i for i, _ in wires[address]), key=lambda i: abs(sample.amps.get(i, 0.0)))
        loads = seen.loads_in(largest, sample) if amps > limit.value / 2 else ()
        yield Strain(
            "tab", address, amps, limit.value, "A", limit.source, limit.basis,
            seen.told(sample), loads, note=terminal.fitting,
            path=seen.way(loads, sample) if amps > limit.value else (),
        )  # fmt: skip


def _most(seen: Inspection, legs: list[tuple[int, float]]) -> tuple[float, Sample] | None:
    best: Sample | None = None
    least = 0.01  # from where on a current is the most so far
    for sample in seen.lasting_samples:
        amps = 0.0
        for index, sign in legs:
            amps += sign * sample.amps.get(index, 0.0)
        if abs(amps) > least:
            best, least, most = sample, abs(amps) + SAME, abs(amps)
    return None if best is None else (most, best)
