"""What an ohmmeter reads between any two points of a vehicle whose battery is off and whose fuses are out.

The same reading as ``planner.currents.ohmmeter.cold_ohms``, for many pairs of points at once: cold filaments
are resistances, junctions do not conduct, so each island is one set of linear equations.
"""

from collections.abc import Iterable, Sequence
from math import inf

import numpy as np

from planner.currents.laws import Filament, Resistance
from planner.currents.solver import Branch

LEAST_OHMS = 1e-6  # of an exact joint, so that it is a branch like any other
_OUT = frozenset({"source", "feed", "fuse"})


def dead_branches(branches: Iterable[Branch]) -> list[Branch]:
    """What is left without battery, feeds and fuses, as the test volts find it: filaments cold."""
    left = []
    for branch in branches:
        if branch.name[0] in _OUT:
            continue
        if isinstance(branch.law, Filament):
            left.append(branch._replace(law=Resistance(branch.law.cold_ohms)))
        elif isinstance(branch.law, Resistance):
            left.append(branch)
    return left


class DeadNet:
    """Ohms between the points of one dead network."""

    def __init__(self, branches: Sequence[Branch]) -> None:
        self._number: dict[str, int] = {}
        for branch in branches:
            self._number.setdefault(branch.a, len(self._number))
            self._number.setdefault(branch.b, len(self._number))
        count = len(self._number)
        a = np.array([self._number[branch.a] for branch in branches], dtype=int)
        b = np.array([self._number[branch.b] for branch in branches], dtype=int)
        ohms = [branch.law.ohms for branch in branches if isinstance(branch.law, Resistance)]
        siemens = 1.0 / np.maximum(np.array(ohms), LEAST_OHMS)
        matrix = np.zeros((count, count))
        np.add.at(matrix, (a, a), siemens)
        np.add.at(matrix, (b, b), siemens)
        np.add.at(matrix, (a, b), -siemens)
        np.add.at(matrix, (b, a), -siemens)
        self._island = _islands(count, a.tolist(), b.tolist())
        anchors = sorted(set(self._island))
        matrix[anchors, :], matrix[:, anchors] = 0.0, 0.0
        matrix[anchors, anchors] = 1.0
        self._inverse = np.linalg.inv(matrix)
        self._inverse[anchors, anchors] = 0.0  # volts count from the anchor of each island

    def ohms(self, a: str, b: str) -> float:
        """What a meter reads between two points, in ohm; infinite where nothing joins them."""
        if a == b:
            return 0.0
        one, other = self._number.get(a, -1), self._number.get(b, -1)
        if min(one, other) < 0 or self._island[one] != self._island[other]:
            return inf
        inverse = self._inverse
        return float(inverse[one, one] + inverse[other, other] - 2.0 * inverse[one, other])


def _islands(count: int, a: Sequence[int], b: Sequence[int]) -> list[int]:
    """For each point the least number of what it is joined to."""
    up = list(range(count))

    def root(n: int) -> int:
        while up[n] != n:
            up[n] = up[up[n]]
            n = up[n]
        return n

    for one, other in zip(a, b, strict=True):
        first, second = sorted((root(one), root(other)))
        up[second] = first
    return [root(n) for n in range(count)]
