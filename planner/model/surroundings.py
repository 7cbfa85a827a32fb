"""What decides, besides its size, what a wire carries for good: warmth, insulation, what it lies with."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.model.loom import USUAL_INSULATION, Insulation, Loom, Wire
from planner.model.published import Published, weakest
from planner.model.routes import zone_of
from planner.model.standards import Standards

HOT_C, MILD_C = 50.0, 30.0  # ambients of the handbook's table: a zone marked hot, and any other


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Where a wire runs and what it is made of."""

    ambient_c: float
    insulation: Insulation = USUAL_INSULATION
    loaded: int = 1  # wires in its bundle that carry enough to warm it, itself among them


def leg_surroundings(loom: Loom, wire: Wire, leg: int, loaded: int = 1) -> Surroundings:
    """Those of one leg: the warmer of the two zones it runs between, and what the loom says of its cable."""
    celsius = ambient_c(loom, wire.ends[leg].at, wire.ends[leg + 1].at)
    return Surroundings(celsius, wire.insulation or loom.insulation or USUAL_INSULATION, loaded)


def carries_for_good(standards: Standards, mm2: float, around: Surroundings) -> Published:
    """What a wire of some size carries continuously in its surroundings, in A."""
    if around.insulation == USUAL_INSULATION:  # which is what the handbook's table is for
        return standards.wire_amps(mm2, ambient_c=around.ambient_c, bundled=around.loaded)
    limit = standards.insulation_celsius(around.insulation)
    amps = standards.wire_amps(mm2, limit.value, around.ambient_c, around.loaded)
    source = f"{amps.source}; {around.insulation} stands {limit.value:g} °C ({limit.source})"
    return Published(amps.value, source, weakest((amps.basis, limit.basis)))


def ambient_c(loom: Loom, *addresses: str) -> float:
    """The ambient, in degrees Celsius, of the warmest zone in which one of some addresses is."""
    return HOT_C if any(loom.zones[zone].hot for zone in _zones(loom, addresses)) else MILD_C


def _zones(loom: Loom, addresses: tuple[str, ...]) -> Iterator[str]:
    for address in addresses:
        zone = zone_of(loom, address)
        if zone is not None and zone in loom.zones:
            yield zone


def bundle_between(loom: Loom, from_: str, to: str) -> str | None:
    """The bundle that a new wire between two addresses is laid in: one that joins the same two zones.

    Of several the one with most wires. None within a zone, where a lead is short and lies apart, and where
    an end's zone is not known.
    """
    zones = {zone_of(loom, from_), zone_of(loom, to)}
    if len(zones) < 2 or None in zones:
        return None
    joining = [
        name
        for name, wires in loom.bundles.items()
        if any(_joins(loom, loom.find(wire), zones) for wire in wires)
    ]
    return min(joining, key=lambda name: (-len(loom.bundles[name]), name), default=None)


def _joins(loom: Loom, wire: Wire, zones: set[str | None]) -> bool:
    at = [zone_of(loom, end.at) for end in wire.ends]
    return any({at[leg], at[leg + 1]} == zones for leg in range(len(at) - 1))
