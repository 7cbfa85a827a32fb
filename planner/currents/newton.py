"""Newton's method for the curved part of many operating points at once.

Each curve is replaced by a tangent, which gives volts and a current; the next tangent is laid where the curve
has those volts or that current, whichever is nearer. A current is what decides for a cold lamp behind a
lesser one and for a diode, volts for a lamp on the battery; with volts alone the first take twice as many
rounds, or go astray. Points that have settled are put aside, so that the last rounds are made for few.
"""

import numpy as np

from planner.currents.core import Core
from planner.currents.curves import Array, Curves
from planner.currents.island import ROUNDING
from planner.currents.rows import Mask

MOST_ROUNDS = 20  # what has not settled then has to be solved by steps that are cut where they go too far


class Newton:
    """A core of nodes with curved branches among them, each ``there`` in some points only.

    ``rows`` are the first rows of the core, with a column for each point.
    """

    def __init__(self, core: Core, rows: Array, curves: Curves, there: Mask) -> None:
        self.core, self.curves, self.there, self.rows = core, curves, there, rows
        width = rows.shape[1]
        self.rounds = np.zeros(width, dtype=int)
        self.is_settled = np.zeros(width, dtype=bool)
        self.volts = np.zeros((len(core.nodes) + 1, width))
        self.joined = np.zeros(self.volts.shape)  # which nodes are joined to zero: 1, or else 0

    def solve(self, guess: Array) -> None:
        """Find the volts of the core in every point; those not settled stand in ``is_settled``.

        ``guess`` has volts across each curve that the first tangents are laid at, NaN where nobody knows any:
        there a chord is laid through 0 V instead.
        """
        core, there, rows = self.core, self.there, self.rows
        columns = np.arange(rows.shape[1])  # the points still under way
        is_known = ~np.isnan(guess)
        first = self.curves.first_guess()
        amps, slopes = self.curves.at(np.where(is_known, guess, first))
        slopes = np.where(is_known, slopes, self.curves.at(first)[0] / first)
        guess, amps = np.where(is_known, guess, 0.0), np.where(is_known, amps, 0.0)
        while columns.size and self.rounds.max() < MOST_ROUNDS:
            self.rounds[columns] += 1
            volts = self._tangents(rows, slopes * there, (slopes * guess - amps) * there)
            across = volts[core.a] - volts[core.b]
            flowing = amps + slopes * (across - guess)
            now, slopes = self.curves.at(across)
            digits = np.abs(volts).max(axis=0) * slopes + np.abs(now)
            is_little = np.abs(flowing - now) <= ROUNDING * digits
            settled = np.logical_and.reduce(is_little | ~there, axis=0)
            self.volts[:, columns] = volts
            self.is_settled[columns] = settled
            left = ~settled
            columns, there, rows = columns[left], there[:, left], rows[:, left]
            guess = self.curves.nearer(guess[:, left], across[:, left], flowing[:, left])
            amps, slopes = self.curves.at(guess)

    def _tangents(self, base: Array, slopes: Array, offsets: Array) -> Array:
        """Volts with every curve replaced by its tangent."""
        core = self.core
        rows = np.zeros((core.levels.height, base.shape[1]))
        rows[: len(base)] = base
        slopes, offsets = slopes[core.open], offsets[core.open]
        core.to_rows.add(rows, np.concatenate((slopes, offsets, -offsets)))
        gone = core.levels.take_out(rows)
        volts = np.zeros((len(core.nodes) + 1, base.shape[1]))
        volts[-1] = 1.0
        core.levels.put_back(volts, gone)
        if self.rounds.max() == 1:
            self.joined[core.zero] = 1.0
            core.levels.reach(self.joined, gone)
        return volts
