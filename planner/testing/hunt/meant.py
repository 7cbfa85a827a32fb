"""In which setting something was seen, where a person leaves out what goes without saying: it is on."""

import re
from dataclasses import replace

import numpy as np

from planner.model.observations import EVERYTHING, LOOKS, Observation, Settings
from planner.testing.hunt.agreeing import load_key, look_chances
from planner.testing.hunt.known import Known
from planner.testing.hunt.tolerance import DISAGREES
from planner.testing.hunt.vehicle import NOTHING

# What a load does that is on: one that is off may glow for want of an earth, but it does not get dim.
OF_WHAT_IS_ON = frozenset({"dim", "over", "flashes slowly", "flashes fast"})
MOST_DEAD = 8  # of the loads that everything stands for: so many say what all of them would
# Of the chance in the likeliest setting: with less it goes without saying that it was that one, with more
# that it was the one with the least said; in between somebody has to say.
RARER, LIKE = 0.2, 0.5
_SAYS_SETTING = re.compile(r"\s(?:with|when|while|whenever|as soon as|once|if|after)\s")
_WORKS = re.compile(r"\b(?:works?|ok|fine|normal|as it should)\b")  # said of what is as it should be
_EXACT = re.compile(r"\swith .*\S: \S")  # as a log has it: each control that is not at rest, by its name


def settings_meant(known: Known, seen: Observation) -> tuple[Settings, ...]:
    """The settings that may be meant; several only where nobody can tell without asking.

    "Side lamps dim when braking" is said of lamps that are lit; "horn off" of one that is pressed, "washer
    off with the button pressed" with the ignition on. Nothing is added where the sound vehicle has the load
    on already, or where all is said by its name.
    """
    if seen.kind != "looks" or _EXACT.search(seen.said):
        return (seen.settings,)
    is_said = bool(_SAYS_SETTING.search(seen.said))
    variables = known.vehicle.net.variables
    if any(variables[name].kind == "cam" for name, _ in seen.settings):
        return _runs_on(known, seen)
    if is_said and not (seen.settings or seen.at_rest):  # everything at rest, and the person says so
        return (seen.settings,)
    if known.is_gauge(load_key(seen.at)):
        return _reads(known, seen)
    works = seen.says in ("full", "flashes") and bool(_WORKS.search(seen.said))
    if seen.says in ("full", "flashes") and not works:
        return _explained(known, seen)
    if seen.says not in OF_WHAT_IS_ON and seen.says != "off" and not works:
        return (seen.settings,)
    if _is_on(known, seen, seen.settings):
        return (seen.settings,)
    said, may = dict(seen.settings), dict[Settings, None]()
    for way in known.standing.ways.get(load_key(seen.at), ()):
        both = tuple(sorted((dict(way) | said).items()))
        names = {name for name, _ in way}
        is_of_it = seen.says != "off" or said.keys() <= names  # else it may well be off
        if is_of_it and not names.intersection(seen.at_rest) and _is_on(known, seen, both):
            may[both] = None
    return tuple(may) or (seen.settings,)


def _reads(known: Known, seen: Observation) -> tuple[Settings, ...]:
    """The least setting, with what is said, in which a gauge reads anything: it is not looked at before."""
    if _is_on(known, seen, seen.settings) or seen.says == "over":
        return (seen.settings,)
    for setting in sorted(known.standing.settings, key=len):
        both = tuple(sorted({**dict(setting), **dict(seen.settings)}.items()))
        is_so = set(setting) <= set(both) and not {name for name, _ in setting}.intersection(seen.at_rest)
        if is_so and _is_on(known, seen, both):
            for each in setting:  # what of it only came along with what else works there
                less = tuple(other for other in both if other != each)
                if each not in seen.settings and _is_on(known, seen, less):
                    both = less
            return (both,)
    return (seen.settings,)


def _runs_on(known: Known, seen: Observation) -> tuple[Settings, ...]:
    """The least setting in which a cam off its rest, that somebody speaks of, keeps a load on; else as said.

    "Wipers do not park": the ignition is on, the wiper switch off.
    """
    for setting in known.standing.settings:
        both = tuple(sorted({**dict(setting), **dict(seen.settings)}.items()))
        if set(setting) <= set(both) and _is_on(known, seen, both) and not _is_on(known, seen, setting):
            return (both,)
    return (seen.settings,)


def loads_meant(known: Known, seen: Observation) -> tuple[Observation, ...]:
    """The same of each load that is meant: of everything that works in the setting, if everything is dead."""
    if seen.at != EVERYTHING:
        return (seen,)
    loads = [replace(seen, at="/".join(load)) for load in known.standing.working]
    return tuple(each for each in loads if _is_on(known, each, seen.settings))[:MOST_DEAD]


def _explained(known: Known, seen: Observation) -> tuple[Settings, ...]:
    """The least setting, with what is said, in which it is not much rarer than in the likeliest; or both.

    "Right turn lamp flashes with turn left" is said with the ignition on, and so is "wipers keep running when
    switched off", and "indicators stay on with turn left": with all that makes them flash. That a load works
    as it should is only meant where nothing else explains it.
    """
    if _is_on(known, seen, seen.settings):
        return (seen.settings,)
    said = set(seen.settings)
    for way in known.standing.ways.get(load_key(seen.at), ()):
        is_so = said and said < set(way) and not {name for name, _ in way}.intersection(seen.at_rest)
        if is_so and _sound_look(known, seen, way) != seen.says and _chance(known, seen, way):
            return (way,)
    more = [
        setting
        for setting in known.standing.settings
        if said < set(setting) and not {name for name, _ in setting}.intersection(seen.at_rest)
    ]
    wrong = sorted((setting for setting in more if not _is_on(known, seen, setting)), key=len)
    near = [seen.settings, *(setting for setting in wrong if len(setting) == len(said) + 1)]
    for some in (near, wrong, sorted(more, key=len)):
        chances = [_chance(known, seen, setting) for setting in some]
        if (most := max(chances, default=0.0)) > 0.0:
            least = next(n for n, chance in enumerate(chances) if chance > RARER * most)
            likeliest = chances.index(most)
            return (some[least],) if chances[least] > LIKE * most else (some[least], some[likeliest])
    return (seen.settings,)


def _chance(known: Known, seen: Observation, setting: Settings) -> float:
    """How likely a look is in a setting, by all mistakes that explain it there."""
    every = np.arange(known.vehicle.singles)
    chances = look_chances(known.outlook, setting, load_key(seen.at), every)[:, LOOKS.index(str(seen.says))]
    return float(known.vehicle.weights[every] @ np.where(chances > DISAGREES, chances, 0.0))


def _sound_look(known: Known, seen: Observation, setting: Settings) -> str:
    chances = look_chances(known.outlook, setting, load_key(seen.at), np.array([NOTHING]))[0]
    return LOOKS[int(chances.argmax())]


def _is_on(known: Known, seen: Observation, setting: Settings) -> bool:
    return _sound_look(known, seen, setting) != "off"
