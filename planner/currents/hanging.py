"""What hangs on a network by one end only carries nothing, wherever it hangs: it need not be solved.

Its nodes have the volts of what they hang on, and those of a source on the way on top. They are looked up
when somebody asks, so that a point takes no room for them.
"""

from array import array
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.currents.laws import Emf
from planner.currents.outline import Outline
from planner.currents.rows import Mask
from planner.currents.solver import Branch


class Trees:
    """What hangs on what in some points of an outline, in whichever of them it is joined at all.

    ``closed`` says for each of the branches whether it is there in any of the points. ``kept`` are the nodes
    that hang on nothing, ``rows`` those of the outline's branches that join two of them. For each node that
    hangs, ``above`` is the one that it hangs on, and ``by`` the branch in between; -1 for all others.
    """

    def __init__(self, outline: Outline, branches: Sequence[Branch], closed: Mask) -> None:
        self.outline, self.branches = outline, branches
        a, b, there = outline.a, outline.b, closed[outline.rows]
        is_fixed = np.zeros(len(outline.names), dtype=bool)
        is_fixed[outline.zero] = True
        is_fixed[a[there & (a == b)]] = True  # a branch from a node to itself may carry something there
        edges = np.flatnonzero(there & (a != b))
        ends, both = np.concatenate((a[edges], b[edges])), np.concatenate((edges, edges))
        degree = np.bincount(ends, minlength=len(is_fixed))
        last = np.zeros(len(is_fixed), dtype=np.intp)  # where one branch is left: which
        np.bitwise_xor.at(last, ends, both)
        above, by = np.full((2, len(is_fixed)), -1)
        leaves = np.flatnonzero((degree == 1) & ~is_fixed)
        while leaves.size:
            edge, first = np.unique(last[leaves], return_index=True)  # of two on one another one hangs
            leaves = leaves[first]
            others = a[edge] + b[edge] - leaves
            above[leaves], by[leaves], degree[leaves] = others, outline.rows[edge], 0
            np.subtract.at(degree, others, 1)
            np.bitwise_xor.at(last, others, edge)
            leaves = np.unique(others[(degree[others] == 1) & ~is_fixed[others]])
        self.kept: Mask = (degree > 0) | is_fixed
        self.rows: Mask = there & self.kept[a] & self.kept[b]
        self.above, self.by = (array("q", own.astype(np.int64).tobytes()) for own in (above, by))

    def lift(self, node: int) -> float:
        """The volts that a node has over the one that it hangs on."""
        branch = self.branches[self.by[node]]
        if not isinstance(branch.law, Emf):
            return 0.0
        return branch.law.volts if branch.a == self.outline.names[node] else -branch.law.volts


@dataclass(frozen=True, slots=True)
class Hanging:
    """What hangs in one point; ``closed`` has a bit for each branch, and tells whether it is there."""

    trees: Trees
    closed: bytes

    @property
    def nodes(self) -> Sequence[str]:
        """The nodes of all branches, sorted."""
        return self.trees.outline.names

    def is_closed(self, index: int) -> bool:
        """Whether a branch is there."""
        return self.closed[index >> 3] & (128 >> (index & 7)) > 0

    def reaches(self, node: str) -> bool:
        """Whether any branch reaches a node."""
        return any(map(self.is_closed, self.trees.outline.touching.get(node, ())))

    def root(self, node: str) -> tuple[str, float]:
        """The node that one hangs on in the end, and the volts that it has over that."""
        trees, lift = self.trees, 0.0
        number = trees.outline.number.get(node)
        if number is None:
            return node, 0.0
        while trees.above[number] >= 0 and self.is_closed(trees.by[number]):
            lift += trees.lift(number)
            number = trees.above[number]
        return trees.outline.names[number], lift
