"""Plain half-splitting with a meter, to set the hunts against: suspects are alike, a reading is live or dead.

Each time the terminal is read that halves what is left most evenly, in the setting of the symptom first, then
in the others. What no such reading divides is gone through one by one, half of it on average.
"""

import numpy as np
from numpy.typing import NDArray

from planner.model.loom import split_address
from planner.model.observations import LOOKS, Observation
from planner.testing.hunt.agreeing import load_key, look_chances
from planner.testing.hunt.known import Known
from planner.testing.hunt.settling import Setting

MOST = 40


def half_split(known: Known, symptom: Observation, truth: int) -> float:
    """How many readings and looks it takes on average, from one symptom."""
    vehicle, outlook = known.vehicle, known.outlook
    worlds = np.arange(1, vehicle.singles)
    looks = look_chances(outlook, symptom.settings, load_key(symptom.at), worlds).argmax(axis=1)
    worlds = worlds[looks == LOOKS.index(str(symptom.says))]
    taken = 0
    for setting in (symptom.settings, *(s for s in known.standing.settings if s != symptom.settings)):
        while taken < MOST and _count(known, worlds) > 1:
            answers = _most_even(known, setting, worlds)
            if answers is None:
                break
            worlds = worlds[answers == answers[worlds.tolist().index(truth)]]
            taken += 1
    return taken + (_count(known, worlds) - 1) / 2


def _count(known: Known, worlds: NDArray[np.intp]) -> int:
    """How many mistakes are left."""
    return len({known.vehicle.worlds[world].mistakes for world in worlds.tolist()})


def _most_even(known: Known, setting: Setting, worlds: NDArray[np.intp]) -> NDArray[np.bool_] | None:
    """Whether each world is live where that divides them most evenly; None where nothing does."""
    position, vehicle = known.outlook.position(setting), known.vehicle
    position.ask(worlds)
    places = vehicle.wired.loom.places
    readable = [
        n
        for node, n in vehicle.nodes.items()
        if "::" not in node and split_address(node)[0] in {*places, "joint", "feed"}
    ]
    readable = [n for n in readable if not position.swinging[n]]
    live = np.abs(position.volts[worlds][:, readable]) > abs(vehicle.net.volts) / 2
    away = np.abs(live.mean(axis=0) - 0.5)
    best = int(away.argmin())
    return live[:, best] if away[best] < 0.5 - 1e-9 else None
