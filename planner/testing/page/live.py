"""Volts between points of a live vehicle: as it should be, and how far tolerance moves them."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.currents.curves import Array
from planner.currents.grid import Grid, Position
from planner.currents.laws import Emf
from planner.currents.resistances import FLAT_SHARE, FULL_SHARE
from planner.currents.solver import Branch, Point
from planner.testing.page.around import Around
from planner.testing.page.excited import TRANSISTORS_V, with_least, with_most
from planner.testing.page.points import solve_sets
from planner.testing.page.tolerance import LEAST_CHARGE, SOURCES, factor, scaled

MUCH_OHMS = 1e3  # behind more than this a point reads what the meter lets it
LEAST_VOLTS_SHARE = (FLAT_SHARE + (FULL_SHARE - FLAT_SHARE) * LEAST_CHARGE) / FULL_SHARE


@dataclass(frozen=True)
class Stand:
    """One position of the vehicle as it should be, solved."""

    position: Position
    indices: tuple[int, ...]
    point: Point


class Live:
    """The live readings of one grid; volts count from earth to the live pole.

    ``fields`` are the branches that stand for a field behind a regulator of an unknown kind.
    """

    def __init__(self, grid: Grid, sign: float, fields: frozenset[tuple[str, ...]] = frozenset()) -> None:
        self.grid, self.sign, self.fields = grid, sign, fields
        self._turned: dict[tuple[int, float, bool], Branch] = {}

    def solve(self, positions: Sequence[Position]) -> list[Stand]:
        """Positions solved, all together."""
        closed = [self.grid.closed(position) for position in positions]
        points = solve_sets([[self.grid.bare[i] for i in own] for own in closed], self.grid.zero)
        return [
            Stand(position, tuple(own), point)
            for position, own, point in zip(positions, closed, points, strict=True)
        ]

    def read(self, point: Point, at: str, to: str) -> float:
        """What a meter reads between two points; nothing where one of them hangs in the air."""
        volts = point.volts
        return self.sign * (volts[at] - volts[to]) if at in volts and to in volts else 0.0

    def turned(self, index: int, times: float, *, is_flat: bool) -> Branch:
        """A branch with so many times its resistance; a flat source has its battery's least volts."""
        key = (index, times, is_flat)
        if key not in self._turned:
            branch = self.grid.bare[index]
            law = scaled(branch.law, times)
            if is_flat and isinstance(law, Emf):
                law = Emf(law.volts * LEAST_VOLTS_SHARE, law.ohms)
            self._turned[key] = branch._replace(law=law)
        return self._turned[key]


class Leaning:
    """How readings at one operating point lean on every branch: first order, by the adjoint network."""

    def __init__(self, live: Live, stand: Stand, beside: Sequence[str] = ()) -> None:
        self.live, self.stand = live, stand
        self.where = {index: n for n, index in enumerate(stand.indices)}
        branches = [live.grid.bare[index] for index in stand.indices]
        self.net = Around(branches, stand.point.volts, live.grid.zero, beside)
        self._amps = live.sign * np.array(stand.point.amps)
        emf = [branch.law.volts if isinstance(branch.law, Emf) else 0.0 for branch in branches]
        self._driven = live.sign * np.array(emf) * self.net.siemens
        self._is_source = [branch.name[0] in SOURCES for branch in branches]
        self._more = np.array([factor(branch.name[0]) for branch in branches])
        self._fields = [n for n, branch in enumerate(branches) if branch.name in live.fields]

    def is_firm(self, at: str, to: str) -> bool:
        """Whether what a meter reads there does not hang on the meter's own resistance."""
        one, other, z = self.net.number[at], self.net.number[to], self.net.ohms
        return bool(z[one, one] + z[other, other] - 2 * z[one, other] < MUCH_OHMS)

    def _felt(self, at: str, to: str) -> Array:
        """By how much a reading rises from an ampere into each branch's first point, out of its second."""
        column = self.net.ohms[self.net.number[at]] - self.net.ohms[self.net.number[to]]
        return np.asarray(column[self.net.a] - column[self.net.b])

    def rise(self, at: str, to: str, index: int) -> float:
        """By how much a reading rises, or falls, for each volt that a closed branch would generate."""
        return float(self._felt(at, to)[self.where[index]] * self.net.siemens[self.where[index]])

    def width(self, at: str, to: str) -> float:
        """By how much a good reading may be off, about, in V; without the meter."""
        felt = self._felt(at, to)
        most = np.abs(self._amps * felt) @ (self._more - 1.0)
        most += sum(TRANSISTORS_V * abs(felt[n] * self.net.siemens[n]) for n in self._fields)
        return float(most + np.abs((self._driven * felt).sum()) * (1.0 - LEAST_VOLTS_SHARE))

    def corner(self, at: str, to: str, *, high: bool) -> list[Branch]:
        """The network in which a reading is highest, or lowest: each branch as far off as it may be."""
        felt = self._felt(at, to)
        rises, lifts = (self._amps * felt).tolist(), float((self._driven * felt).sum())
        found = []
        for n, index in enumerate(self.stand.indices):
            more = float(self._more[n])
            times = more if (rises[n] > 0) == high else 1.0 / more
            is_flat = self._is_source[n] and (lifts > 0) != high
            branch = self.live.turned(index, times, is_flat=is_flat)
            if n in self._fields:
                field = self.live.grid.bare[index]
                amps = float(self._amps[n]) * self.live.sign
                branch = with_most(field, amps, times) if times > 1.0 else with_least(field)
            found.append(branch)
        return found
