"""Newton's method for the curved part of many operating points at once.

``island`` says why it finds its way: what is left over along a step falls steadily. Points that have settled
are put aside, so that the last rounds are made for few.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array, Curves
from planner.currents.elimination import Elimination, Mask, Rows, Value, fewest_first, join, narrow, stacked
from planner.currents.island import GOOD_STEP, MOST_CUTS, MOST_ROUNDS, ROUNDING, SETTLED_V

Numbers = NDArray[np.intp]
QUICK_ROUNDS = 5  # as many as most points need; only after them it is asked whether digits are lacking


class Sums:
    """Adds up at the nodes what branches bring at their first and second ends."""

    def __init__(self, a: Numbers, b: Numbers, nodes: int) -> None:
        self.nodes = nodes
        both = np.concatenate((a, b))
        self.order = np.argsort(both, kind="stable")
        self.present, self.starts = np.unique(both[self.order], return_index=True)

    def __call__(self, at_a: Array, at_b: Array) -> Array:
        """What comes together at each node."""
        out = np.zeros((self.nodes, at_a.shape[1]))
        if self.present.size:
            out[self.present] = np.add.reduceat(np.concatenate((at_a, at_b))[self.order], self.starts, axis=0)
        return out


class Newton:
    """A core of nodes with curved branches ``a`` to ``b`` among them, there in some points only."""

    def __init__(
        self,
        rows: Rows,
        pushed: Sequence[Value],
        curves: Curves,
        a: Numbers,
        b: Numbers,
        there: Mask,
        zero: int,
    ) -> None:
        self.rows, self.pushed, self.curves, self.zero = rows, pushed, curves, zero
        self.a, self.b, self.there = a, b, there
        self.pairs = list(zip(a.tolist(), b.tolist(), strict=True))
        graph = [set(row) for row in rows]
        for one, other in self.pairs:
            graph[one] |= {other} - {one}
            graph[other] |= {one} - {other}
        self.order = fewest_first(graph, set(range(len(rows))) - {zero}, len(rows))
        width = there.shape[1]
        edges = [
            (one, other, siemens)
            for one, row in enumerate(rows)
            for other, siemens in row.items()
            if one < other
        ]
        self.edge_a = np.array([one for one, _, _ in edges], dtype=int)
        self.edge_b = np.array([other for _, other, _ in edges], dtype=int)
        self.siemens = stacked([siemens for _, _, siemens in edges], width)
        self.source_amps = stacked(pushed, width)
        self.sums = Sums(np.concatenate((self.edge_a, a)), np.concatenate((self.edge_b, b)), len(rows))
        self.columns = np.arange(width)  # the points still under way
        self.rounds = np.ones(width, dtype=int)
        self.is_settled = np.zeros(width, dtype=bool)
        self.found = np.zeros((len(rows), width))

    def solve(self) -> Array:
        """The volts of the core in every point; those not settled stand in ``is_settled``."""
        guess = np.broadcast_to(self.curves.first_guess(), self.there.shape)
        self.volts = self._tangents(self.curves.at(guess)[1] * self.there, np.zeros(self.there.shape))
        self.first = self.last
        self._look(self.volts)
        if not self.pairs:
            self._put_aside(np.ones(self.columns.size, dtype=bool))
        while self.columns.size and self.rounds.max() < MOST_ROUNDS:
            self.rounds[self.columns] += 1
            self._put_aside(self._round())
        self.found[:, self.columns] = self.volts
        return self.found

    def joined(self) -> list[Mask]:
        """Which nodes of the core are joined to zero in which points."""
        joined: list[Mask] = [np.full(self.rounds.size, node == self.zero) for node in range(len(self.rows))]
        self.first.reach(joined)
        return joined

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
        left = self.source_amps + self.sums(-out, out)
        left[self.zero] = 0.0
        around = np.concatenate((self.siemens, self.slopes))
        is_little = np.abs(left) <= ROUNDING * most * self.sums(around, around)
        found: Mask = np.logical_and.reduce(is_little, axis=0)
        return found

    def _slope(self, steps: Array) -> Array:
        """What is left over at the nodes, times a step: added up by branches."""
        by_edges = self.flow * (steps[self.edge_a] - steps[self.edge_b])
        by_curves = self.amps * (steps[self.a] - steps[self.b])
        found: Array = (self.source_amps * steps).sum(axis=0) - by_edges.sum(axis=0) - by_curves.sum(axis=0)
        return found

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
        rows: Rows = [dict(row) for row in self.rows]
        pushed = list(self.pushed)
        for (a, b), slope, offset in zip(self.pairs, slopes, offsets, strict=True):
            if a != b:
                join(rows, a, b, slope)
                pushed[a] = pushed[a] + offset
                pushed[b] = pushed[b] - offset
        self.last = Elimination(rows, pushed)
        self.last.take_out(self.order)
        volts: list[Value] = [0.0] * len(rows)
        self.last.put_back(volts)
        return stacked(volts, self.columns.size)

    def _put_aside(self, settled: Mask) -> None:
        """Go on with those points only that have not settled."""
        if not settled.any():
            return
        self.found[:, self.columns[settled]] = self.volts[:, settled]
        self.is_settled[self.columns[settled]] = True
        left = ~settled
        self.columns, self.volts = self.columns[left], self.volts[:, left]
        self.rows = [{node: narrow(value, left) for node, value in row.items()} for row in self.rows]
        self.pushed = [narrow(value, left) for value in self.pushed]
        for name in ("there", "siemens", "source_amps", "across", "amps", "slopes", "flow"):
            setattr(self, name, getattr(self, name)[:, left])
