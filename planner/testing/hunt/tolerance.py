"""How far a reading may be from what was foretold, and how often one is plainly wrong.

Common practice, no source: a hand meter is good for about 1 % and a few last digits, but what was foretold
rests on a battery that is more or less charged and on wires of roughly known length.
"""

import numpy as np

from planner.currents.curves import Array

WRONG = 0.002  # how often what was said is not so: a lead slipped, a terminal mistaken, a word mistyped
SURE_VOLTS, VOLTS_SHARE = 0.05, 0.03  # one standard deviation: so much, and a share of the reading
SURE_OHMS, OHMS_SHARE = 0.15, 0.1
LOOK_SPREAD = 0.15  # of the logarithm of a lamp's power, where one look passes into the next
UNSURE = 8.0  # times as far, where a mistake has some size that nobody knows, and this is of it
BIN = 5.0  # standard deviations that count as one outcome when the next reading is chosen
LOOK_LIMITS = (0.02, 0.2, 0.7, 2.2)  # shares of power between off, glows, dim, full, over
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
    return WRONG + (1.0 - WRONG) * np.exp(-0.5 * ((foretold - read) / spread) ** 2)


def bins(foretold: Array) -> Array:
    """The chance of each outcome of a reading that is foretold on its scale; outcomes are one more axis.

    A mistake of unknown size counts as of the size of its world: what is not known of it would else pass for
    something that a reading tells, again and again.
    """
    low, high = np.floor(foretold.min() / BIN), np.ceil(foretold.max() / BIN)
    edges = np.arange(low, high + 1.0) * BIN + BIN / 2
    below = 1.0 / (1.0 + np.exp(-1.7 * np.clip(edges - foretold[..., None], -40, 40)))
    zero, one = np.zeros((*foretold.shape, 1)), np.ones((*foretold.shape, 1))
    found: Array = np.diff(np.concatenate((zero, below, one), axis=-1), axis=-1)
    return found


def looks(power: Array, *, limits: tuple[float, ...] = LOOK_LIMITS, spread: float = LOOK_SPREAD) -> Array:
    """The chance of each look at some share of the power it should have: off, glows, dim, full, over."""
    size = np.log(np.maximum(power, 1e-9))[..., None]
    below = 1.0 / (1.0 + np.exp(-1.7 * np.clip((np.log(np.array(limits)) - size) / spread, -40, 40)))
    zero, one = np.zeros((*power.shape, 1)), np.ones((*power.shape, 1))
    found: Array = np.diff(np.concatenate((zero, below, one), axis=-1), axis=-1)
    return found
