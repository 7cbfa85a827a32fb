"""Newton's method for the curved part of many operating points at once.

``island`` says why it finds its way: what is left over along a step falls steadily. Points that have settled
are put aside, so that the last rounds are made for few.
"""

import numpy as np

from planner.currents.curves import Array, Curves
from planner.currents.island import GOOD_STEP, MOST_CUTS, MOST_ROUNDS, ROUNDING, SETTLED_V
from planner.currents.levels import Mask, total
from planner.currents.outline import Core

QUICK_ROUNDS = 5  # as many as most points need; only after them it is asked whether digits are lacking


class Newton:
    """A core of nodes with curved branches among them, each ``there`` in some points only.

    ``siemens`` are the conductances of its edges, ``source_amps`` what is pushed into its nodes, with a
    column for each point.
    """

    def __init__(self, core: Core, siemens: Array, source_amps: Array, curves: Curves, there: Mask) -> None:
        self.core, self.curves, self.there = core, curves, there
        self.siemens, self.source_amps = siemens, source_amps
        nodes, width = source_amps.shape
        self.columns = np.arange(width)  # the points still under way
        self.rounds = np.ones(width, dtype=int)
        self.is_settled = np.zeros(width, dtype=bool)
        self.found = np.zeros((nodes, width))

    def solve(self, guess: Array) -> Array:
        """The volts of the core in every point; those not settled stand in ``is_settled``.

        ``guess`` has volts across each curve that the first tangents are laid at, NaN where nobody knows any:
        there a first slope is taken without an offset.
        """
        is_known = ~np.isnan(guess)
        guess = np.where(is_known, guess, self.curves.first_guess())
        amps, slopes = self.curves.at(guess)
        offsets = np.where(is_known & self.there, slopes * guess - amps, 0.0)
        self.volts = self._tangents(slopes * self.there, offsets)
        self.first = self.last
        self._look(self.volts)
        if not self.core.a.size:
            self._put_aside(np.ones(self.columns.size, dtype=bool))
        while self.columns.size and self.rounds.max() < MOST_ROUNDS:
            self.rounds[self.columns] += 1
            self._put_aside(self._round())
        self.found[:, self.columns] = self.volts
        return self.found

    def joined(self) -> Array:
        """Which nodes of the core are joined to zero in which points: 1, or else 0."""
        joined = np.zeros(self.found.shape)
        joined[self.core.zero] = 1.0
        self.core.levels.reach(joined, self.first)
        return joined

    def _look(self, volts: Array) -> None:
        """Currents and slopes at some volts."""
        core = self.core
        self.across = volts[core.a] - volts[core.b]
        amps, slopes = self.curves.at(self.across)
        self.amps, self.slopes = amps * self.there, slopes * self.there
        self.flow = self.siemens * (volts[core.edge_a] - volts[core.edge_b])

    def _round(self) -> Mask:
        """Make one step; which points have settled with it."""
        most = np.abs(self.volts).max(axis=0)
        steps = self._tangents(self.slopes, self.slopes * self.across - self.amps) - self.volts
        first = self._slope(steps)
        is_small = np.abs(steps).max(axis=0) <= SETTLED_V * np.maximum(1.0, most)
        is_there = first <= 0.0
        if self.rounds.max() > QUICK_ROUNDS:
            is_there = np.logical_or(is_there, self._is_rounding(most))
        settled: Mask = np.logical_or(is_there, is_small)
        steps[:, settled & ~is_small] = 0.0
        self.volts = self.volts + self._share(steps, first, ~settled) * steps
        return settled

    def _is_rounding(self, most: Array) -> Mask:
        """Whether what is left over is no more than lack of digits makes it."""
        out = np.concatenate((self.flow, self.amps))
        left = self.source_amps.copy()
        self.core.at_nodes.add(left, np.concatenate((-out, out)))
        left[self.core.zero] = 0.0
        around = np.zeros(left.shape)
        self.core.at_nodes.add(around, np.concatenate((self.siemens, self.slopes) * 2))
        is_little = np.abs(left) <= ROUNDING * most * around
        found: Mask = np.logical_and.reduce(is_little, axis=0)
        return found

    def _slope(self, steps: Array) -> Array:
        """What is left over at the nodes, times a step: added up by branches."""
        core = self.core
        by_edges = self.flow * (steps[core.edge_a] - steps[core.edge_b])
        by_curves = self.amps * (steps[core.a] - steps[core.b])
        return total(np.concatenate((self.source_amps * steps, -by_edges, -by_curves)))

    def _share(self, steps: Array, first: Array, is_open: Mask) -> Array:
        """How far to go along a step in each point."""
        share, low, high = (np.full(first.size, start) for start in (1.0, 0.0, 1.0))
        at_low, at_high = first, np.zeros(first.size)
        for _ in range(MOST_CUTS):
            self._look(self.volts + share * steps)
            slope = self._slope(steps)
            is_far = (np.abs(slope) > GOOD_STEP * first) & ((slope < 0.0) | (share < 1.0))
            is_open = np.logical_and(is_open, is_far)
            if not is_open.any():
                break
            is_short, is_long = is_open & (slope > 0.0), is_open & (slope <= 0.0)
            low, at_low = np.where(is_short, share, low), np.where(is_short, slope, at_low)
            high, at_high = np.where(is_long, share, high), np.where(is_long, slope, at_high)
            crossing = np.divide(at_low, at_low - at_high, out=np.full(first.size, 0.5), where=is_open)
            share = np.where(is_open, low + (high - low) * np.clip(crossing, 0.1, 0.9), share)
        return share

    def _tangents(self, slopes: Array, offsets: Array) -> Array:
        """Volts with every curve replaced by its tangent."""
        core, levels = self.core, self.core.levels
        siemens = np.zeros((core.pairs, slopes.shape[1]))
        siemens[: len(self.siemens)] = self.siemens
        core.to_pairs.add(siemens, slopes[core.open])
        pushed = self.source_amps.copy()
        core.to_ends.add(pushed, np.concatenate((offsets[core.open], -offsets[core.open])))
        self.last = levels.take_out(siemens, pushed)
        volts = np.zeros(pushed.shape)
        levels.put_back(volts, self.last)
        return volts

    def _put_aside(self, settled: Mask) -> None:
        """Go on with those points only that have not settled."""
        if not settled.any():
            return
        self.found[:, self.columns[settled]] = self.volts[:, settled]
        self.is_settled[self.columns[settled]] = True
        left = ~settled
        self.columns, self.volts = self.columns[left], self.volts[:, left]
        for name in ("there", "siemens", "source_amps", "across", "amps", "slopes", "flow"):
            setattr(self, name, getattr(self, name)[:, left])
