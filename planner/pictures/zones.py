"""What the view of a whole loom shows: zones, the places in each, and the bundles of wires between them."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.messages import tr, tr_count
from planner.model.loom import Loom, split_address
from planner.model.routes import zone_of
from planner.pictures.changes import end_changes, leg_notes
from planner.pictures.union import Looms


@dataclass(frozen=True, slots=True)
class Chip:
    """A place in its zone; ``word`` says what happens there, empty where nothing does."""

    place: str
    title: str
    word: str


@dataclass(frozen=True, slots=True)
class ZoneArea:
    """A part of the vehicle: the places where something happens, and what the others are called."""

    zone: str
    title: str
    chips: tuple[Chip, ...]
    others: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Bundle:
    """The wires between two zones after the work, and how many of them changed or are new."""

    zones: tuple[str, str]
    wires: int
    changed: int

    @property
    def words(self) -> str:
        """How many there are."""
        wires = tr_count("{count} wire", "{count:,} wires", self.wires)
        return tr("{wires}, {changed} changed", wires=wires, changed=self.changed) if self.changed else wires


def zones_of(looms: Looms) -> tuple[ZoneArea, ...]:
    """Every zone that has places, or in which a wire ends."""
    found: dict[str, dict[str, Chip]] = {}
    for loom in (looms.after, looms.before):
        for place, fitted in loom.places.items():
            chip = Chip(place, loom.place_title(place), _word(looms, place))
            found.setdefault(fitted.zone, {}).setdefault(place, chip)
        for zone in (zone_of(loom, end.at) for wire in loom.wires for end in wire.ends):
            if zone is not None:
                found.setdefault(zone, {})
    areas = []
    for zone, chips in found.items():
        record = looms.after.zones.get(zone) or looms.before.zones.get(zone)
        title = (record.title if record else None) or zone
        affected = tuple(chip for chip in chips.values() if chip.word)
        others = tuple(chip.title for chip in chips.values() if not chip.word)
        areas.append(ZoneArea(zone, title, affected, others))
    return tuple(areas)


def _word(looms: Looms, place: str) -> str:
    if place not in looms.after.places:
        return tr("part taken out")
    if place not in looms.before.places:
        return tr("new part")
    if place in looms.swapped:
        return tr("part exchanged")
    ends = {(wire, end) for loom in (looms.before, looms.after) for wire, end, _ in loom.ends_of_place(place)}
    if _fuses(looms.before, place) != _fuses(looms.after, place):
        return tr("another fuse")
    changes = any(end_changes(looms.before, looms.after, wire, end) for wire, end in ends)
    return tr("wires change") if changes else ""


def _fuses(loom: Loom, place: str) -> Mapping[str, float]:
    """The fuses of a place that are not the part's own."""
    return {at: amps for at, amps in loom.fuses.items() if split_address(at)[0] == place}


def bundles_of(looms: Looms) -> tuple[Bundle, ...]:
    """The bundles between zones; a leg of which nobody knows where it ends is in none."""
    wires: dict[tuple[str, str], dict[str, bool]] = {}
    for wire in looms.after.wires:
        for leg in range(len(wire.ends) - 1):
            zones = _zones(looms.after, wire.ends[leg].at, wire.ends[leg + 1].at)
            if zones is not None:
                changed = bool(leg_notes(looms.before, looms.after, wire.wire, leg))
                found = wires.setdefault(zones, {})
                found[wire.wire] = found.get(wire.wire, False) or changed
    return tuple(Bundle(zones, len(found), sum(found.values())) for zones, found in wires.items())


def _zones(loom: Loom, first: str, last: str) -> tuple[str, str] | None:
    one, other = zone_of(loom, first), zone_of(loom, last)
    if one is None or other is None or one == other:
        return None
    return (one, other) if one < other else (other, one)
