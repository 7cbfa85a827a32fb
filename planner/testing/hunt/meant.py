"""In which setting something was seen, where a person leaves out what goes without saying: it is on."""

import re

import numpy as np

from planner.model.observations import LOOKS, Observation, Settings
from planner.testing.hunt.agreeing import load_key, look_chances
from planner.testing.hunt.known import Known
from planner.testing.hunt.tolerance import DISAGREES
from planner.testing.hunt.vehicle import NOTHING

# What a load does that is on: one that is off may glow for want of an earth, but it does not get dim.
OF_WHAT_IS_ON = frozenset({"dim", "over", "flashes slowly", "flashes fast"})
_SAYS_SETTING = re.compile(r"\s(?:with|when|while)\s")


def settings_meant(known: Known, seen: Observation) -> tuple[Settings, ...]:
    """The settings that may be meant; several only where nobody can tell without asking.

    "Side lamps dim when braking" is said of lamps that are lit; "horn off" of one that is pressed. Nothing
    is added where the sound vehicle has the load on already, nor to "off" where the person says how the
    controls are.
    """
    if seen.kind != "looks" or not isinstance(seen.says, str):
        return (seen.settings,)
    is_said = bool(_SAYS_SETTING.search(seen.said))
    if seen.says in ("full", "flashes"):
        return _explained(known, seen)
    if seen.says not in OF_WHAT_IS_ON and (seen.says != "off" or is_said):
        return (seen.settings,)
    if is_said and not seen.settings:  # everything at rest, and the person says so
        return (seen.settings,)
    if _is_on(known, seen, seen.settings):
        return (seen.settings,)
    said, may = dict(seen.settings), dict[Settings, None]()
    for way in known.standing.ways.get(load_key(seen.at), ()):
        both = tuple(sorted((dict(way) | said).items()))
        if set(way) <= set(both) and _is_on(known, seen, both):
            may[both] = None
    return tuple(may) or (seen.settings,)


def _explained(known: Known, seen: Observation) -> tuple[Settings, ...]:
    """The setting as it was said, if some mistake explains what was seen there; else what may be meant.

    "Right turn lamp flashes with turn left" is said with the ignition on.
    """
    said = set(seen.settings)
    more = [setting for setting in known.standing.settings if said < set(setting)]
    for setting in (seen.settings, *sorted(more, key=len)):
        every = np.arange(known.vehicle.singles)
        chances = look_chances(known.outlook, setting, load_key(seen.at), every)
        if (chances[:, LOOKS.index(str(seen.says))] > DISAGREES).any():
            return (setting,)
    return (seen.settings,)


def _is_on(known: Known, seen: Observation, setting: Settings) -> bool:
    chances = look_chances(known.outlook, setting, load_key(seen.at), np.array([NOTHING]))[0]
    return LOOKS[int(chances.argmax())] != "off"
