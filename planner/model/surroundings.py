"""How warm it is where a wire runs: what it carries for good depends on that."""

from collections.abc import Iterator

from planner.model.loom import Loom, Wire
from planner.model.routes import zone_of

HOT_C, MILD_C = 50.0, 30.0  # ambients of the handbook's table: a zone marked hot, and any other


def leg_ambient_c(loom: Loom, wire: Wire, leg: int) -> float:
    """The ambient, in degrees Celsius, of one leg: that of the warmer of the two zones it runs between."""
    return ambient_c(loom, wire.ends[leg].at, wire.ends[leg + 1].at)


def ambient_c(loom: Loom, *addresses: str) -> float:
    """The ambient, in degrees Celsius, of the warmest zone in which one of some addresses is."""
    return HOT_C if any(loom.zones[zone].hot for zone in _zones(loom, addresses)) else MILD_C


def _zones(loom: Loom, addresses: tuple[str, ...]) -> Iterator[str]:
    for address in addresses:
        zone = zone_of(loom, address)
        if zone is not None and zone in loom.zones:
            yield zone
