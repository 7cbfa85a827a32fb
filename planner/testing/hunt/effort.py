"""What a reading takes, in minutes: common practice, no source; only which takes more than which matters."""

from collections.abc import Mapping
from types import MappingProxyType

from planner.model.loom import split_address
from planner.model.observations import Observation, ObservationKind, Settings
from planner.testing.hunt.known import Known

LOOK_MINUTES = 0.8  # to look whether a lamp is lit
FUSE_MINUTES = 0.7  # to look at a fuse that lies open
FEEL_MINUTES = 0.7  # to feel along a wire
LEAST_MINUTES = FUSE_MINUTES  # nothing takes less
LAMP_MINUTES = 0.8  # to put a test lamp on a terminal that lies open: nothing is read off
SIT_MINUTES = 1.0  # to look which wire, by its colour, is on a terminal that lies open
READ_MINUTES = 1.0  # to put a meter on a terminal that lies open
BEHIND_MINUTES = 0.6  # more: the back of what sits in a hole of a panel, and a joiner in the loom
ZONE_MINUTES = 0.3  # more: in another zone than the last reading
SET_MINUTES = 0.2  # more for each control that has to be moved
CRANK_MINUTES = 1.5  # more: to turn the starter, out of gear, with nobody near the fan
# More: what is not set by hand. An engine is started, a trailer coupled, water warmed, a tank filled.
AWKWARD_MINUTES: Mapping[str, float] = MappingProxyType(
    {"engine": 1.0, "oil pressure": 1.0, "trailer": 6.0, "water": 6.0, "fuel": 6.0}
)
HELD_MINUTES = 0.5  # more: for each lever or button that somebody has to hold meanwhile
STARTER = "starter"  # a family of parts
BATTERY_MINUTES = 0.8  # more: to take the battery off, and put it on again

_MINUTES: Mapping[ObservationKind, float] = {
    "looks": LOOK_MINUTES,
    "sits": SIT_MINUTES,
    "fuse": FUSE_MINUTES,
    "warm": FEEL_MINUTES,
    "lamp": LAMP_MINUTES,
}


class Effort:
    """What readings take after the last one."""

    def __init__(self, known: Known, last: Observation | None) -> None:
        self.vehicle, self.last = known.vehicle, last
        self._starts = [
            way
            for (place, _), ways in known.standing.ways.items()
            if known.part(place).family == STARTER
            for way in ways
        ]

    def of(self, kind: ObservationKind, at: str, to: str, setting: Settings) -> float:
        """Minutes of one reading."""
        minutes = _MINUTES.get(kind, READ_MINUTES)
        if kind in ("sits", "warm"):
            at = self._end_at(at if kind == "sits" else f"{at}.0")
        if kind != "looks":
            minutes += BEHIND_MINUTES * sum(self._is_behind(each) for each in (at, to) if each)
            if self.last is not None and self._zone(self.last.at) != self._zone(at):
                minutes += ZONE_MINUTES
        if kind == "ohms":
            is_off = self.last is not None and self.last.kind == "ohms"
            return minutes + (0.0 if is_off else BATTERY_MINUTES)
        if kind == "sits":
            return minutes
        before = dict(self.last.settings) if self.last is not None else {}
        moved = {name for name, _ in set(setting) ^ set(before.items())}
        if self.last is not None and self.last.kind == "ohms":
            minutes += BATTERY_MINUTES
        held = sum(label in self.vehicle.net.variables[name].sprung for name, label in setting)
        minutes += SET_MINUTES * len(moved) + HELD_MINUTES * held
        minutes += sum(AWKWARD_MINUTES.get(name.rpartition("/")[2], 0.0) for name in moved)
        return minutes + CRANK_MINUTES * self._cranks(setting)

    def _cranks(self, setting: Settings) -> bool:
        """Whether the starter turns."""
        return any(set(way) <= set(setting) for way in self._starts)

    def _is_behind(self, at: str) -> bool:
        place, _ = split_address(at)
        known = self.vehicle.wired.loom.places.get(place)
        return place == "joint" or (
            known is not None and self.vehicle.catalogue.parts[known.part].mounts == "hole"
        )

    def _end_at(self, at: str) -> str:
        """The address of the end of a wire; anything else as it is."""
        wire, dot, number = at.rpartition(".")
        if dot and wire in self.vehicle.wired.loom.wire_index and number.isdecimal():
            return self.vehicle.wired.loom.find(wire).ends[int(number)].at
        return at

    def _zone(self, at: str) -> str:
        place = self._end_at(at).partition("/")[0].partition(":")[0]
        known = self.vehicle.wired.loom.places.get(place)
        return known.zone if known else place
