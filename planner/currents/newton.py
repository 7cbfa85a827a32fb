"""Newton's method for the curved part of many operating points at once.

``island`` says why it finds its way: what is left over along a step falls steadily. Points that have settled
are put aside, so that the last rounds are made for few.
"""

from collections.abc import Sequence

import numpy as np

from planner.currents.curves import Array, Curves
from planner.currents.island import GOOD_STEP, MOST_CUTS, MOST_ROUNDS, ROUNDING, SETTLED_V
from planner.currents.levels import Levels, Mask, Numbers, Pair, Sums, pair_of, total

QUICK_ROUNDS = 5  # as many as most points need; only after them it is asked whether digits are lacking


class Newton:
    """A core of nodes with curved branches ``a`` to ``b`` among them, there in some points only.

    ``edges`` are what else joins two nodes, ``siemens`` their conductances, with a column for each point.
    """

    def __init__(
        self,
        edges: Sequence[Pair],
        siemens: Array,
        source_amps: Array,
        curves: Curves,
        a: Numbers,
        b: Numbers,
        there: Mask,
        zero: int,
    ) -> None:
        self.siemens, self.source_amps, self.curves, self.zero = siemens, source_amps, curves, zero
        self.a, self.b, self.there = a, b, there
        nodes, width = source_amps.shape
        self.edge_a = np.array([one for one, _ in edges], dtype=int)
        self.edge_b = np.array([other for _, other in edges], dtype=int)
        bent = [pair_of(one, other) for one, other in zip(a.tolist(), b.tolist(), strict=True)]
        pairs = list(dict.fromkeys([*edges, *(pair for pair in bent if pair[0] != pair[1])]))
        self.levels = Levels(nodes, pairs, zero)
        self.pairs = len(pairs)
        self.open = np.flatnonzero(a != b)  # a curve from a node to itself joins nothing
        self.to_pairs = Sums([self.levels.place[bent[row]] for row in self.open.tolist()])
        self.to_ends = Sums([*a[self.open].tolist(), *b[self.open].tolist()])
        self.at_nodes = Sums([*self.edge_a.tolist(), *a.tolist(), *self.edge_b.tolist(), *b.tolist()])
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
        if not self.a.size:
            self._put_aside(np.ones(self.columns.size, dtype=bool))
        while self.columns.size and self.rounds.max() < MOST_ROUNDS:
            self.rounds[self.columns] += 1
            self._put_aside(self._round())
        self.found[:, self.columns] = self.volts
        return self.found

    def joined(self) -> Mask:
        """Which nodes of the core are joined to zero in which points."""
        return self.levels.joined(self.first)

    def _look(self, volts: Array) -> None:
        """Currents and slopes at some volts."""
        self.across = volts[self.a] - volts[self.b]
        amps, slopes = self.curves.at(self.across)
        self.amps, self.slopes = amps * self.there, slopes * self.there
        self.flow = self.siemens * (volts[self.edge_a] - volts[self.edge_b])

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
        self.at_nodes.add(left, np.concatenate((-out, out)))
        left[self.zero] = 0.0
        around = np.zeros(left.shape)
        self.at_nodes.add(around, np.concatenate((self.siemens, self.slopes) * 2))
        is_little = np.abs(left) <= ROUNDING * most * around
        found: Mask = np.logical_and.reduce(is_little, axis=0)
        return found

    def _slope(self, steps: Array) -> Array:
        """What is left over at the nodes, times a step: added up by branches."""
        by_edges = self.flow * (steps[self.edge_a] - steps[self.edge_b])
        by_curves = self.amps * (steps[self.a] - steps[self.b])
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
        siemens = np.zeros((self.pairs, slopes.shape[1]))
        siemens[: len(self.siemens)] = self.siemens
        self.to_pairs.add(siemens, slopes[self.open])
        pushed = self.source_amps.copy()
        self.to_ends.add(pushed, np.concatenate((offsets[self.open], -offsets[self.open])))
        self.last = self.levels.solve(siemens, pushed)
        return self.last.volts

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
