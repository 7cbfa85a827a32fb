"""Elimination of nodes, star to mesh, for many operating points at once.

A conductance is a number where it is the same in all of them, else an array with one value for each. Only
positive numbers are added, so no digits are lost; what floats is found by a node that nothing joins any
more: its sum of conductances is exactly 0.
"""

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

Value = float | NDArray[np.float64]
Mask = NDArray[np.bool_]
Rows = list[dict[int, Value]]  # node: neighbour: siemens


def join(rows: Rows, a: int, b: int, siemens: Value) -> None:
    """Put a conductance between two nodes, beside what is there."""
    rows[a][b] = rows[b][a] = rows[a].get(b, 0.0) + siemens


def inverse(siemens: Value) -> Value:
    """Ohms; 0 where there is nothing to divide by."""
    if isinstance(siemens, np.ndarray):
        return np.divide(1.0, siemens, out=np.zeros(siemens.shape), where=siemens > 0.0)
    return 1.0 / siemens if siemens > 0.0 else 0.0


class Elimination:
    """Takes nodes out of a network one by one, and finds their volts again from those that are left."""

    def __init__(self, rows: Rows, pushed: list[Value]) -> None:
        self.rows, self.pushed = rows, pushed
        self.done: list[tuple[int, Value, list[tuple[int, Value]]]] = []  # node, volts on its own, shares

    def take_out(self, nodes: Iterable[int]) -> None:
        """Eliminate nodes in some order."""
        rows, pushed = self.rows, self.pushed
        for node in nodes:
            own = list(rows[node].items())
            total: Value = 0.0
            for _, siemens in own:
                total = total + siemens
            ohms = inverse(total)
            shares = [(other, siemens * ohms) for other, siemens in own]
            push = pushed[node]
            self.done.append((node, push * ohms, shares))
            for index, (other, share) in enumerate(shares):
                del rows[other][node]
                pushed[other] = pushed[other] + push * share
                for third, siemens in own[index + 1 :]:
                    join(rows, other, third, share * siemens)

    def put_back(self, volts: list[Value]) -> None:
        """Fill in the volts of the eliminated nodes, the last one first."""
        for node, alone, shares in reversed(self.done):
            found = alone
            for other, share in shares:
                found = found + share * volts[other]
            volts[node] = found

    def reach(self, joined: list[Mask]) -> None:
        """Whether an eliminated node is joined to one of those left that is; ``joined`` holds all nodes."""
        for node, _, shares in reversed(self.done):
            for other, share in shares:
                joined[node] = joined[node] | (joined[other] & (share > 0.0))


def fewest_first(graph: list[set[int]], nodes: set[int], most: int) -> list[int]:
    """An order to eliminate nodes in: always one with the fewest neighbours, none with more than ``most``.

    Changes the graph, and leaves in ``nodes`` those that are not eliminated.
    """
    order = []
    buckets: dict[int, set[int]] = {}
    for node in nodes:
        buckets.setdefault(len(graph[node]), set()).add(node)
    while nodes:
        degree = min(d for d, held in buckets.items() if held)
        if degree > most:
            break
        node = min(buckets[degree])
        buckets[degree].discard(node)
        nodes.discard(node)
        order.append(node)
        around = graph[node]
        for other in around:
            before = len(graph[other])
            graph[other] |= around
            graph[other] -= {other, node}
            if other in nodes:
                buckets[before].discard(other)
                buckets.setdefault(len(graph[other]), set()).add(other)
    return order


def stacked(values: Sequence[Value], width: int) -> NDArray[np.float64]:
    """Rows of one array, numbers repeated for every point."""
    out = np.empty((len(values), width))
    for row, value in enumerate(values):
        out[row] = value
    return out
