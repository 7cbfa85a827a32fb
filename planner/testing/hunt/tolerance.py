"""How far a reading may be from what was foretold, and how often one is plainly wrong.

Common practice, no source: a hand meter is good for about 1 % and a few last digits, but what was foretold
rests on a battery that is more or less charged and on wires of roughly known length.
"""

import numpy as np

from planner.currents.curves import Array
from planner.testing.meter import METER_OHMS, METER_VOLTS

WRONG = 0.002  # how often what was said is not so: a lead slipped, a terminal mistaken, a word mistyped
# What is said wrongly may be anything else that could have been said: so many looks, places, readings.
WRONG_LOOK, WRONG_PLACE, WRONG_READING = WRONG / 7, WRONG / 10, WRONG / 25
WRONG_TOLD = WRONG_LOOK / 10  # what somebody came with, before any reading: it was seen more than once
DISAGREES = 0.05  # from here down an observation is one that a world does not explain
# One standard deviation: what the meter may be off, and a share of the reading for meter and vehicle.
SURE_VOLTS, VOLTS_SHARE = METER_VOLTS / 2, 0.03
SURE_OHMS, OHMS_SHARE = METER_OHMS / 2, 0.1
# Of the logarithm of a lamp's power, where one look passes into the next: a fifth of its light, more or less.
LOOK_SPREAD = 0.1
UNSURE = 8.0  # times as far, where a mistake has some size that nobody knows, and this is of it
LOOK_LIMITS = (0.02, 0.2, 0.7, 2.2)  # shares of power between off, glows, dim, full, over
# Of a gauge's needle, percent of its scale: how well it is read, where it no longer moves, and how far it
# is off before anybody says so; common practice, no source.
NEEDLE_SPREAD, NEEDLE_STILL, NEEDLE_OFF = 8.0, 4.0, 15.0
BEAT_LIMITS = (0.85, 1.2)  # shares of the sound current between flashing slowly, as it should, and fast


def volts_scale(volts: Array) -> Array:
    """Volts on a scale on which one standard deviation is 1 everywhere."""
    scaled: Array = np.sign(volts) * np.log1p(np.abs(volts) * VOLTS_SHARE / SURE_VOLTS) / VOLTS_SHARE
    return scaled


def ohms_scale(ohms: Array) -> Array:
    """Ohms on a scale on which one standard deviation is 1 everywhere."""
    scaled: Array = np.log1p(ohms * OHMS_SHARE / SURE_OHMS) / OHMS_SHARE
    return scaled


def agreement(foretold: Array, read: Array, spread: Array) -> Array:
    """How well a reading agrees, from almost 0 to 1; both on their scale."""
    return WRONG_READING + (1.0 - WRONG) * np.exp(-0.5 * ((foretold - read) / spread) ** 2)


def _normal(deviations: Array) -> Array:
    """The share of a normal distribution below so many deviations, within 0.0002."""
    some = np.clip(deviations, -8.0, 8.0)
    found: Array = 1.0 / (1.0 + np.exp(-some * (1.5976 + 0.07056 * some * some)))
    return found


def looks(power: Array, *, limits: tuple[float, ...] = LOOK_LIMITS, spread: float = LOOK_SPREAD) -> Array:
    """The chance of each look at some share of the power it should have: off, glows, dim, full, over."""
    size = np.log(np.maximum(power, 1e-9))[..., None]
    below = _normal((np.log(np.array(limits)) - size) / spread)
    zero, one = np.zeros((*power.shape, 1)), np.ones((*power.shape, 1))
    found: Array = np.diff(np.concatenate((zero, below, one), axis=-1), axis=-1)
    return found


def needles(percent: Array, sound: Array) -> Array:
    """The chance of each look of a gauge, by where its needle is and should be.

    It stands still ("off"), reads too low ("dim"), as it should ("full") or too high ("over").
    """
    still = _normal((NEEDLE_STILL - percent) / (NEEDLE_STILL / 4))
    high = _normal((percent - sound - NEEDLE_OFF) / (NEEDLE_OFF / 4)) * (1.0 - still)
    low = _normal((sound - NEEDLE_OFF - percent) / (NEEDLE_OFF / 4)) * (1.0 - still)
    found: Array = np.stack((still, np.zeros_like(still), low, 1.0 - still - low - high, high), axis=-1)
    return found
