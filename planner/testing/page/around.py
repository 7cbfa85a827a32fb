"""A network as straight lines around one operating point: what a reading leans on, what a mistake changes.

Curved branches have the resistance that they have there. So a mistake's reading is right where they keep
it, and near enough elsewhere to choose readings by; what is told of a mistake is solved anew. ``beside`` are
points that nothing reaches yet.
"""

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

import numpy as np

from planner.currents.curves import Array
from planner.currents.laws import Filament
from planner.currents.solver import Branch

LEAK_SIEMENS = 1e-5  # from every point to the zero, so that what a mistake cuts off falls to nothing
MOST_SIEMENS = 1e6  # of an exact joint, so that it is a branch like any other
NO_VOLTS = 1e-3  # what a curved branch has at least, to tell its resistance by its current


def secant(branch: Branch, volts: float) -> float:
    """The conductance that a branch has at some volts, in S."""
    law = branch.law
    if law.is_linear:
        return MOST_SIEMENS if getattr(law, "ohms", 1.0) == 0 else law.siemens(volts)
    if abs(volts) > NO_VOLTS:
        return max(law.amps(volts) / volts, 0.0)
    return 1.0 / law.cold_ohms if isinstance(law, Filament) else law.siemens(0.0)


class Around:
    """One network, its branches with the conductances that they have at its operating point."""

    def __init__(
        self, branches: Sequence[Branch], volts: Mapping[str, float], zero: str, beside: Iterable[str] = ()
    ) -> None:
        nodes = dict.fromkeys([zero, *(node for branch in branches for node in (branch.a, branch.b))])
        self._reached = len(nodes)
        self.number: Mapping[str, int] = {node: n for n, node in enumerate(dict.fromkeys([*nodes, *beside]))}
        self.a = np.array([self.number[branch.a] for branch in branches], dtype=int)
        self.b = np.array([self.number[branch.b] for branch in branches], dtype=int)
        self.volts = np.array([volts.get(node, 0.0) for node in self.number])
        over = (self.volts[self.a] - self.volts[self.b]).tolist()
        self.siemens = np.array([secant(branch, v) for branch, v in zip(branches, over, strict=True)])

    @cached_property
    def ohms(self) -> Array:
        """Volts at every point for an ampere into any other, seen from the zero (which is point 0)."""
        count = self._reached
        matrix: Array = np.zeros((count, count))
        np.add.at(matrix, (self.a, self.a), self.siemens)
        np.add.at(matrix, (self.b, self.b), self.siemens)
        np.add.at(matrix, (self.a, self.b), -self.siemens)
        np.add.at(matrix, (self.b, self.a), -self.siemens)
        matrix[np.diag_indices(count)] += LEAK_SIEMENS
        matrix[0, :], matrix[:, 0], matrix[0, 0] = 0.0, 0.0, 1.0
        whole: Array = np.diag(np.full(len(self.number), 1.0 / LEAK_SIEMENS))
        whole[:count, :count] = np.linalg.inv(matrix)
        whole[0, 0] = 0.0
        return whole

    @cached_property
    def leaking(self) -> Array:
        """The volts with what leaks from every point: only so does what is cut off fall to nothing."""
        return np.asarray(self.volts - LEAK_SIEMENS * (self.ohms @ self.volts))
