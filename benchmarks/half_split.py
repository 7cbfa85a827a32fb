"""Plain half-splitting with a meter, to set the hunts against: suspects are alike, a reading is live or dead.

Each time the terminal is read that halves what is left most evenly, in the setting of the symptom first, then
in the others. What no such reading divides is gone through one by one, half of it on average.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from planner.testing.hunt.known import Known
from planner.testing.hunt.per_world import Worlds
from planner.testing.hunt.settling import Setting


def half_split(known: Known, setting: Setting, suspects: Worlds) -> dict[int, float]:
    """How many readings and looks each of some suspects takes on average, from a symptom in a setting."""
    settings = [setting, *(s for s in known.standing.settings if s != setting)]
    return dict(_split(known, settings, suspects, 0))


def _split(
    known: Known, settings: Sequence[Setting], worlds: Worlds, taken: int
) -> Iterator[tuple[int, float]]:
    """Yield each world and the readings that it takes, so many of them before these were left."""
    count = len({known.vehicle.worlds[world].mistakes for world in worlds.tolist()})
    for n, setting in enumerate(settings if count > 1 else ()):
        position = known.outlook.position(setting)
        position.ask(worlds)
        readable = known.readable[~position.swinging[known.readable]]
        live = np.abs(position.volts[worlds[:, None], readable]) > abs(known.vehicle.net.volts) / 2
        away = np.abs(live.mean(axis=0) - 0.5)
        best = int(away.argmin())
        if away[best] < 0.5 - 1e-9:
            yield from _split(known, settings[n:], worlds[live[:, best]], taken + 1)
            yield from _split(known, settings[n:], worlds[~live[:, best]], taken + 1)
            return
    for world in worlds.tolist():
        yield world, taken + (count - 1) / 2
