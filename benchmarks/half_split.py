"""Plain half-splitting with a meter, to set the hunts against: suspects are alike, a reading is live or dead.

Each time the terminal is read that halves what is left most evenly, in the setting of the symptom first, then
in the others. What no such reading divides is gone through one by one, in any order, until one is left; what
looks and reads the same everywhere counts as one, for there a hunt ends as well.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array
from planner.testing.hunt.agreeing import looks_of, where_it_sits
from planner.testing.hunt.known import Known
from planner.testing.hunt.per_world import Worlds
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.vehicle import Vehicle


class HalfSplit:
    """Half-splitting on one vehicle."""

    def __init__(self, known: Known) -> None:
        self.known = known
        self.half_volts = abs(known.vehicle.net.volts) / 2

    @cached_property
    def alike(self) -> NDArray[np.intp]:
        """A number for each single world, the same for those that no volts, look or place tells apart."""
        known = self.known
        every = np.arange(known.vehicle.singles)
        rows: list[Array] = [_places(known.vehicle, every)[:, None]]
        for setting in known.standing.settings:
            position = known.outlook.position(setting)
            rows.append(np.round(position.volts(every, known.steady(setting)), 1))
            rows.append(looks_of(known.outlook, setting, every, known.visible).argmax(axis=2))
        seen = np.concatenate(rows, axis=1)
        mixed = np.round(seen @ np.sin(np.arange(1.0, seen.shape[1] + 1.0)), 6)
        return np.unique(mixed, return_inverse=True)[1]

    def readings(self, setting: Setting, suspects: Worlds) -> dict[int, float]:
        """How many readings and looks each of some suspects takes on average, from a symptom in a setting."""
        settings = [setting, *(s for s in self.known.standing.settings if s != setting)]
        return dict(self._split(settings, suspects, 0))

    def _split(self, settings: Sequence[Setting], worlds: Worlds, taken: int) -> Iterator[tuple[int, float]]:
        """Yield each world and the readings that it takes, so many of them before these were left."""
        count = len(set(self.alike[worlds].tolist()))
        for n, setting in enumerate(settings if count > 1 else ()):
            position = self.known.outlook.position(setting)
            live = np.abs(position.volts(worlds, self.known.steady(setting))) > self.half_volts
            away = np.abs(live.mean(axis=0) - 0.5)
            best = int(away.argmin())
            if away[best] < 0.5 - 1e-9:
                yield from self._split(settings[n:], worlds[live[:, best]], taken + 1)
                yield from self._split(settings[n:], worlds[~live[:, best]], taken + 1)
                return
        # The first of n is found by one look, the last two by n - 1.
        for world in worlds.tolist():
            yield world, taken + (count - 1) * (count + 2) / (2 * count)


def _places(vehicle: Vehicle, worlds: Worlds) -> NDArray[np.intp]:
    """A number for each world, the same where every end of a wire is seen to be at the same place."""
    ends = {(e.wire, e.end) for world in vehicle.worlds for change in world.changes for e in change.ends}
    found = np.zeros(len(worlds), dtype=int)
    for wire, number in sorted(ends):
        where = np.unique(
            where_it_sits(vehicle, f"{wire}.{number}", worlds).astype(str), return_inverse=True
        )[1]
        found = np.unique(found * (int(where.max()) + 1) + where, return_inverse=True)[1]
    return found
