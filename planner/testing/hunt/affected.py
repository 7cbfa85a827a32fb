"""What a suspect has to do with: its wires, those on the way to what was seen, and what to mark on them."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from planner.messages import tr
from planner.testing.hunt.explaining import ways
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.mistakes.mistake import BranchName, Change, Mistake

MOST_WIRES = 16  # of one picture; those on the way to what was seen first come first


@dataclass
class Affected:
    """Wires, and what is suspected of legs and of parts, in words for a picture."""

    wires: dict[str, None] = field(default_factory=dict)
    legs: dict[tuple[str, int], str] = field(default_factory=dict)
    places: dict[str, str] = field(default_factory=dict)

    def mark(self, wire: str, leg: int, words: str) -> None:
        """Mark one leg of a wire."""
        self.wires[wire] = None
        self.legs.setdefault((wire, leg), words)


def affected(hunt: Hunt, world: int) -> Affected:
    """What the mistakes of a world have to do with."""
    vehicle, found = hunt.vehicle, Affected()
    own = vehicle.worlds[world]
    for number, change in zip(own.mistakes, own.changes, strict=True):
        _mark(vehicle, found, vehicle.mistakes[number], change)
    for wire in _on_the_way(hunt):
        if len(found.wires) < MOST_WIRES:
            found.wires[wire] = None
    return found


def _mark(vehicle: Vehicle, found: Affected, mistake: Mistake, change: Change) -> None:
    for wire, end, at in change.ends:
        loose = tr("suspected: hangs loose")
        there = loose if at == "loose" else tr("suspected: on {there}", there=vehicle.wired.at(at))
        found.mark(wire, max(0, end - 1), there)
    added = {gated.branch.name for gated in change.added}
    for name in change.gone:
        if name[0] == "wire":
            _mark_wire(vehicle, found, name, change.words if name in added else None)
        else:
            _mark_part(vehicle, found, name[1], mistake)
    for kind, one, other in (name for name in added if name[0] in ("short", "chafed")):
        if kind == "short":
            leg = int(other) if other.isdecimal() else 0
            found.mark(one, leg, tr("suspected: touches the body"))
        else:
            for wire, beside in ((one, other), (other, one)):
                touches = vehicle.wired.wire(beside)
                found.mark(wire, 0, tr("suspected: chafed, touches {wire}", wire=touches))
    for name in added:
        if name[0] not in ("wire", "short", "chafed"):
            _mark_part(vehicle, found, name[1], mistake)
    for place, _ in change.fits:
        _mark_part(vehicle, found, place, mistake)


def _mark_wire(vehicle: Vehicle, found: Affected, name: BranchName, poor: str | None) -> None:
    """A leg that is open, or one with a poor joint; a wire without a leg was not made at all."""
    legs = len(vehicle.wired.loom.find(name[1]).ends) - 1
    if len(name) == 2:
        for leg in range(legs):
            found.mark(name[1], leg, tr("suspected: was not made"))
    elif poor is None:
        found.mark(name[1], int(name[2]), tr("suspected: broken"))
    else:
        found.mark(name[1], int(name[2]), tr("suspected: a poor joint, {ohms}", ohms=poor))


def _mark_part(vehicle: Vehicle, found: Affected, name: str, mistake: Mistake) -> None:
    """A part that is not as it should be inside, with the wires on it."""
    place = name.partition(":")[0]
    if place in vehicle.wired.loom.places:
        found.places[place] = tr("suspected: {kind}", kind=mistake.kind)
        at = {address for address in mistake.mend if address.partition(":")[0] == place}
        for wire, _, mark in vehicle.wired.loom.ends_of_place(place):
            if not at or f"{place}:{mark}" in at or place in at:
                found.wires[wire] = None


def _on_the_way(hunt: Hunt) -> Iterator[str]:
    """Yield the wires on the way to each load that was seen, and home."""
    for way in ways(hunt):
        nodes = set(way)
        for gated in hunt.vehicle.grid.branches:
            if gated.kind == "wire" and {gated.branch.a, gated.branch.b} <= nodes:
                yield gated.branch.name[1]
