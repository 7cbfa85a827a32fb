"""How well each world agrees with what was seen or read, and what outcomes a reading has in each."""

import numpy as np
from numpy.typing import NDArray

from planner.circuit.fitted import LoadKey
from planner.currents.curves import Array
from planner.model.loom import Loom, split_address
from planner.model.observations import LOOKS, TEST_LAMP, Observation, Settings
from planner.testing.hunt.outlook import Outlook
from planner.testing.hunt.per_world import Worlds
from planner.testing.hunt.tolerance import (
    BEAT_LIMITS,
    NEEDLE_SPREAD,
    UNSURE,
    WRONG,
    WRONG_LOOK,
    WRONG_PLACE,
    WRONG_TOLD,
    agreement,
    looks,
    needles,
    ohms_scale,
    volts_scale,
)
from planner.testing.hunt.vehicle import NOTHING, Vehicle
from planner.testing.meter import TEST_LAMP_WATTS

Foretold = tuple[Array, Array]
Columns = NDArray[np.intp]
DARK_FROM = 0.05  # a share of power: a load that goes below it in the dark half of a beat flashes


def load_key(at: str) -> LoadKey:
    """The load that an observation of a look is of."""
    place, _, does = at.partition("/")
    return place, does


def agrees(observation: Observation, outlook: Outlook, worlds: Worlds, *, is_told: bool = False) -> Array:
    """How well each world agrees, from almost 0 to 1; ``is_told``: it is what somebody came with."""
    kind, at, says = observation.kind, observation.at, observation.says
    setting = observation.settings
    if kind == "looks" and isinstance(says, float):
        percent = 100.0 * np.sqrt(outlook.power(setting, load_key(at), worlds))
        return agreement(percent / NEEDLE_SPREAD, np.array(says / NEEDLE_SPREAD), np.ones(len(worlds)))
    if kind == "looks":
        chances = look_chances(outlook, setting, load_key(at), worlds)
        return (WRONG_TOLD if is_told else WRONG_LOOK) + (1.0 - WRONG) * chances[:, LOOKS.index(says)]
    if kind == "lamp" and observation.has_fuses_out:
        ohms = outlook.dead.ohms(at, observation.to, worlds, has_fuses_out=True)
        chances = lamp_chances(share_behind(ohms, outlook.vehicle.net.volts))
        return WRONG + (1.0 - WRONG) * chances[:, TEST_LAMP.index(str(says))]
    if kind == "lamp":
        chances = lamp_chances(outlook.lamp(setting, at, observation.to, worlds))
        return WRONG + (1.0 - WRONG) * chances[:, TEST_LAMP.index(str(says))]
    if kind == "volts":
        assert isinstance(says, float)
        foretold, spread = foretold_volts(outlook, setting, at, observation.to, worlds)
        return agreement(foretold, volts_scale(np.array(says)), spread)
    if kind == "ohms":
        assert isinstance(says, float)
        foretold, spread = foretold_ohms(
            outlook, at, observation.to, worlds, has_fuses_out=observation.has_fuses_out
        )
        return agreement(foretold, ohms_scale(np.array(says)), spread)
    if kind == "sits":
        return np.where(where_it_sits(outlook.vehicle, at, worlds) == says, 1.0, WRONG_PLACE)
    if kind == "fuse":
        is_blown = outlook.is_blown(setting, fuse_branch(outlook, at), worlds)
        return np.where(is_blown == (says == "yes"), 1.0, WRONG)
    warm = is_warm(outlook, setting, at, worlds)
    return WRONG + (1.0 - WRONG) * (warm if says == "yes" else 1.0 - warm)


def where_it_sits(vehicle: Vehicle, end: str, worlds: Worlds) -> NDArray[np.object_]:
    """Where an end of a wire is seen to be in each world: an address, or "loose".

    Where another wire at its place has its colour, nobody sees which is which; but a loose end is seen, and
    one where no wire should have that colour.
    """
    wire, _, number = end.rpartition(".")
    loom = vehicle.wired.loom
    should = loom.find(wire).ends[int(number)].at
    is_told = is_told_by_colour(loom, wire, int(number))
    colour = loom.find(wire).end_colour(int(number))
    found = np.full(len(worlds), should, dtype=object)
    place = {world: n for n, world in enumerate(worlds.tolist())}
    for world, at in vehicle.elsewhere(wire, int(number)):
        own = (loom.find(other).end_colour(n) for other, n in loom.ends_at.get(at, ()))
        if world in place and (is_told or at == "loose" or colour not in own):
            found[place[world]] = at
    return found


def is_told_by_colour(loom: Loom, wire: str, number: int) -> bool:
    """Whether no other wire at its place, or on its joiner, has the colour of an end."""
    record = loom.find(wire)
    address = record.ends[number].at
    place = split_address(address)[0]
    beside = loom.ends_of_place(place) if place in loom.places else ()
    others = [(w, n) for w, n, _ in beside] or loom.ends_at.get(address, ())
    colour = record.end_colour(number)
    return not any(other != wire and loom.find(other).end_colour(n) == colour for other, n in others)


def foretold_volts(outlook: Outlook, setting: Settings, at: str, to: str, worlds: Worlds) -> Foretold:
    """The volts of a reading on their scale, and how far it may be off."""
    foretold = volts_scale(outlook.volts(setting, at, to, worlds))
    sound = volts_scale(outlook.volts(setting, at, to, np.array([NOTHING])))
    return foretold, spread_of(outlook, foretold, sound, worlds)


def foretold_ohms(
    outlook: Outlook, at: str, to: str, worlds: Worlds, *, has_fuses_out: bool = False
) -> Foretold:
    """The ohms of a reading on their scale, and how far it may be off."""
    foretold, sound = (
        ohms_scale(outlook.dead.ohms(at, to, some, has_fuses_out=has_fuses_out))
        for some in (worlds, np.array([NOTHING]))
    )
    return foretold, spread_of(outlook, foretold, sound, worlds)


def spread_of(outlook: Outlook, foretold: Array, sound: Array, worlds: Worlds) -> Array:
    """How far readings may be off, in standard deviations; more where a mistake of unknown size shows."""
    sized = outlook.vehicle.is_sized[worlds]
    shows = np.abs(foretold - sound) > 1.0
    found: Array = np.where(shows & (sized[:, None] if foretold.ndim > 1 else sized), UNSURE, 1.0)
    return found


def is_warm(outlook: Outlook, setting: Settings, wire: str, worlds: Worlds) -> Array:
    """The chance that a wire is felt to be warm."""
    warmth = outlook.warmth(setting, outlook.vehicle.wired.loom.find(wire), worlds)
    found: Array = 1.0 / (1.0 + np.exp(-4.0 * np.log(np.maximum(warmth, 1e-6))))
    return found


def fuse_branch(outlook: Outlook, at: str) -> int:
    """The branch of the fuse whose fused side, or feed, has an address."""
    for index in outlook.moves.fuses:
        branch = outlook.vehicle.grid.branches[index].branch
        if at in (branch.b, branch.name[1]) and (branch.name[0] == "feed" or at == branch.b):
            return index
    raise KeyError(f"there is no fuse at {split_address(at)[0]}")


def share_behind(ohms: Array, volts: float) -> Array:
    """The share of its rated power that a test lamp with a battery of its own gets behind some ohms."""
    lamp_ohms = volts * volts / TEST_LAMP_WATTS
    share: Array = (lamp_ohms / (lamp_ohms + ohms)) ** 2
    return share


def lamp_chances(power: Array) -> Array:
    """The chance that a test lamp is dark, dim, lit."""
    return looks(power, limits=(0.05, 0.5))


def look_chances(outlook: Outlook, setting: Settings, load: LoadKey, worlds: Worlds) -> Array:
    """The chance of each look of ``LOOKS`` in each world."""
    found: Array = looks_of(outlook, setting, worlds, np.array([outlook.loads.column[load]]))[:, 0]
    return found


def looks_of(outlook: Outlook, setting: Settings, worlds: Worlds, columns: Columns) -> Array:
    """The same of several loads, told by their columns: the middle axis."""
    light = outlook.powers(setting, worlds, columns)
    found = np.concatenate((looks(light), np.zeros((*light.shape, 3))), axis=2)
    position = outlook.position(setting)
    beating = position.is_beating(worlds)
    if beating.any():
        dark = outlook.powers(setting, worlds, columns, dark=True)
        flashing = beating[:, None] & (dark < DARK_FROM) & (light > DARK_FROM)
        sound = outlook.powers(setting, np.array([NOTHING]), columns)[0] > 0.0
        # A thermal flasher beats by its amps, which the lamps that are left take together.
        rates = np.where(sound, position.beats[worlds][:, None], 1.0)
        slow, as_it_should, fast = np.moveaxis(looks(rates, limits=BEAT_LIMITS, spread=0.1), 2, 0)
        lit = 1.0 - found[:, :, 0]
        own = np.stack((lit * as_it_should, lit * slow, lit * fast), axis=2)
        found[flashing, 1:5] = 0.0
        found[flashing, 5:] = own[flashing]
    gauges = outlook.loads.is_gauge[columns]
    if gauges.any():
        sound = outlook.powers(setting, np.array([NOTHING]), columns)[:, gauges]
        found[:, gauges] = 0.0
        found[:, gauges, :5] = needles(100.0 * np.sqrt(light[:, gauges]), 100.0 * np.sqrt(sound))
    return found
