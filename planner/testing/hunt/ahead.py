"""What a hunt would think after a reading that was not taken yet, were this or that suspect true."""

from typing import cast

import numpy as np

from planner.currents.curves import Array
from planner.testing.hunt.tolerance import agreement
from planner.testing.hunt.weighing import Groups, entropy, grouped, shares

SAME = 0.25  # standard deviations: what is foretold closer together is one reading


def lessening(weights: Array, foretold: Array, spread: Array, groups: Groups) -> Array:
    """The bits by which each of many readings is expected to lessen what is not known of the groups.

    A reading is a column, with what each world foretells on the scale of the meter, a row each, and how far
    it may be off. Each reading that some world foretells is taken as if it had come, and the worlds are
    weighed by it as the hunt does. Unlike ``informations`` this asks what becomes of the weights: of a
    mistake of unknown size a reading near its own may come as well, so neither tells it from others.
    """
    order = np.argsort(groups, kind="stable")
    weights, foretold, spread = weights[order], foretold[order], spread[order]
    starts = np.flatnonzero(np.diff(groups[order], prepend=-1))
    count = foretold.shape[1]
    level = np.round(foretold / SAME) * 2.0 + (spread > 1.0)
    level = (level - level.min()) + np.arange(count) * (np.ptp(level) + 1.0)
    _, first, own = np.unique(level.ravel(), return_index=True, return_inverse=True)
    world, column = np.divmod(first, count)
    chance = np.bincount(own, weights=np.repeat(weights, count))
    read, may_be_off = foretold[world, column, None], spread[world, column, None]
    agreed = agreement(
        _short(foretold.T[column]), _short(read), _short(np.maximum(spread.T[column], may_be_off))
    )
    after = agreed * _short(weights)
    if len(starts) < len(weights):
        after = np.add.reduceat(after, starts, axis=1)
    total = after.sum(axis=1)
    left = np.log2(total) - (after * np.log2(np.maximum(after, 1e-30))).sum(axis=1) / total
    found: Array = (
        entropy(grouped(shares(weights), groups[order]))
        - np.bincount(column, weights=chance * left, minlength=count) / weights.sum()
    )
    return found


def _short(numbers: Array) -> Array:
    """Numbers with half the digits, which are enough here and take half the time."""
    return cast("Array", numbers.astype(np.float32))
