"""Wires: what they carry against what they stand, and the fuse before them against the same."""

from collections.abc import Iterator

from planner.currents.checks.inspection import Inspection
from planner.currents.survey import Sample
from planner.model.elements import Fuse
from planner.model.loom import Wire, split_address
from planner.model.published import Published
from planner.model.strain import Strain

HOT_C, MILD_C = 50.0, 30.0  # ambients of the handbook's table: a zone marked hot, and any other
# Copper at three times its lasting current (24 A/mm2) warms by about 3 K a second, from 1.8e-8 ohm m and
# 3.45 MJ/(m3 K): ten seconds of a horn or starter do no harm. Computed.
MOMENTARY_FACTOR = 3.0


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield what each leg of each wire carries at most, and what the fuse before it lets through."""
    guards = _fuses_before(seen)
    for index, branch in seen.of_kind("wire"):
        wire, leg = seen.loom.find(branch.name[1]), int(branch.name[2])
        limit = wire_limit(seen, wire, leg)
        peak = seen.peaks.get(index)
        if peak is not None and peak.amps > 0.01:
            allowed = limit.value * (MOMENTARY_FACTOR if peak.momentary else 1.0)
            yield Strain(
                "wire", wire.wire, peak.amps, allowed, "A", limit.source, limit.basis,
                seen.told(peak.sample), seen.loads_in(index, peak.sample), leg, momentary=peak.momentary,
            )  # fmt: skip
        largest = max(guards.get(index, {}).items(), key=lambda found: _rating(seen, found[0]), default=None)
        if largest is not None:
            yield _fuse_over_wire(seen, wire, leg, *largest, limit)


def wire_limit(seen: Inspection, wire: Wire, leg: int) -> Published:
    """What one leg carries for good, in the warmer of the two zones it runs between."""
    hot = any(seen.loom.zones[zone].hot for zone in _zones(seen, wire, leg) if zone in seen.loom.zones)
    return seen.standards.wire_amps(wire.leg_mm2(leg), ambient_c=HOT_C if hot else MILD_C)


def _zones(seen: Inspection, wire: Wire, leg: int) -> Iterator[str]:
    for end in wire.ends[leg : leg + 2]:
        place, zone = split_address(end.at)
        if place in seen.loom.places:
            yield seen.loom.places[place].zone
        elif place == "earth":
            yield zone


def _fuses_before(seen: Inspection) -> dict[int, dict[int, Sample]]:
    """For each leg the fuses that its current comes through, and a sample that shows it.

    Only legs before a load are guarded: one that goes from the load to earth cannot feed a short.
    """
    found: dict[int, dict[int, Sample]] = {}
    grid, positions = seen.survey.grid, seen.survey.positions
    done = set()
    for sample in seen.survey.samples:
        for key in positions.loads:
            load = grid.loads.get(key, -1)
            known = (key, positions.row_of(key, sample.assignment))
            if load not in sample.amps or known in done:
                continue
            done.add(known)
            fuse = None
            for index in seen.way_to(load, sample):
                if grid.branches[index].kind == "fuse":
                    fuse = index
                elif fuse is not None and grid.branches[index].kind == "wire":
                    found.setdefault(index, {}).setdefault(fuse, sample)
    return found


def _rating(seen: Inspection, fuse: int) -> float:
    """What a fuse carries by its continuous rating, in A."""
    element = seen.element(fuse)
    assert isinstance(element, Fuse)
    return element.amps if element.marked == "continuous" else element.amps / 2


def _fuse_over_wire(
    seen: Inspection, wire: Wire, leg: int, fuse: int, sample: Sample, limit: Published
) -> Strain:
    """The largest fuse that guards a leg, against what the leg stands."""
    element = seen.element(fuse)
    assert isinstance(element, Fuse)
    opens = seen.standards.fuse_opens_amps(element.amps, element.marked)
    return Strain(
        "fuse-over-wire", wire.wire, _rating(seen, fuse), limit.value, "A", limit.source,
        _weaker(limit, opens), seen.told(sample), leg=leg, path=(seen.branch(fuse).b,),
        note=f"fuse marked {element.amps:g} A; sure to open at {opens.value:g} A",
    )  # fmt: skip


def _weaker(first: Published, second: Published) -> str:
    return first.basis if first.is_from_memory or not second.is_from_memory else second.basis
