"""The least and the most ohms between nodes that some elements join, each known within bounds.

What two nodes have between them rises with the ohms of every element, so the least is that of a network in
which each element has its least, and the most likewise. A diode counts for the least only, and only where it
lies the right way round on a way from the red lead to the black one.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import inf

from planner.inquiry.part.element_ohms import Ohms

Edge = tuple[str, str, Ohms]
_LEAST_OHMS = 1e-6  # what stands for none: a matrix has no place for an infinite conductance


@dataclass(frozen=True)
class OhmsNetwork:
    """Elements between nodes; ``one_way`` conduct from their first node to their second."""

    both_ways: tuple[Edge, ...]
    one_way: tuple[Edge, ...]

    def between(self, red: str, black: str) -> Ohms:
        """The least and the most ohms from the red lead's node to the black one's; inf where nothing is."""
        crossed = self._crossed(red, black) if self.one_way else ()
        if crossed:
            passed = [self.one_way[number] for number in crossed]
            least = _ohms([*self.both_ways, *passed], 0)(red, black)
        else:
            least = self._plain_least(red, black)
        return least, self._most(red, black)

    @cached_property
    def _plain_least(self) -> "_Between":
        return _ohms(self.both_ways, 0)

    @cached_property
    def _most(self) -> "_Between":
        return _ohms(self.both_ways, 1)

    def _crossed(self, red: str, black: str) -> frozenset[int]:
        """The one-way elements that lie on some way from red to black that passes no node twice."""
        steps: dict[str, list[tuple[str, int | None]]] = {}
        for a, b, ohms in self.both_ways:
            if ohms[0] < inf:
                steps.setdefault(a, []).append((b, None))
                steps.setdefault(b, []).append((a, None))
        for number, (a, b, ohms) in enumerate(self.one_way):
            if ohms[0] < inf:
                steps.setdefault(a, []).append((b, number))
        found: set[int] = set()

        def walk(node: str, passed: Collection[str], crossed: tuple[int, ...]) -> None:
            if node == black:
                found.update(crossed)
                return
            for after, number in steps.get(node, ()):
                if after not in passed:
                    walk(after, (*passed, after), crossed if number is None else (*crossed, number))

        walk(red, (red,), ())
        return frozenset(found)


class _Between:
    """Effective ohms between any two nodes, read off the inverse of the matrix of conductances."""

    def __init__(self, islands: Mapping[str, int], rows: Mapping[str, Mapping[str, float]]) -> None:
        self.islands, self.rows = islands, rows

    def __call__(self, a: str, b: str) -> float:
        """Ohms from one node to another; inf if nothing joins them."""
        if a not in self.islands or self.islands.get(b) != self.islands[a]:
            return inf
        here, there = self.rows.get(a, {}), self.rows.get(b, {})
        return max(here.get(a, 0.0) + there.get(b, 0.0) - 2.0 * here.get(b, 0.0), 0.0)


def _ohms(edges: Iterable[Edge], which: int) -> _Between:
    """The effective ohms in a network of the least (0) or the most (1) of each element."""
    siemens: dict[str, dict[str, float]] = {}
    for a, b, ohms in edges:
        if a != b and ohms[which] < inf:
            share = 1.0 / max(ohms[which], _LEAST_OHMS)
            for one, other in ((a, b), (b, a)):
                row = siemens.setdefault(one, {})
                row[other] = row.get(other, 0.0) + share
    islands: dict[str, int] = {}
    rows: dict[str, dict[str, float]] = {}
    for start in siemens:
        if start not in islands:
            island = _island(start, siemens)
            islands |= dict.fromkeys(island, len(islands))
            rows |= _inverse(island[1:], siemens)  # the first node is the island's zero
    return _Between(islands, rows)


def _island(start: str, siemens: Mapping[str, Mapping[str, float]]) -> list[str]:
    found = {start: None}
    queue = [start]
    while queue:
        for node in siemens[queue.pop()]:
            if node not in found:
                found[node] = None
                queue.append(node)
    return list(found)


def _inverse(nodes: Sequence[str], siemens: Mapping[str, Mapping[str, float]]) -> dict[str, dict[str, float]]:
    """The inverse of the matrix of conductances by elimination; it is positive, so no pivot is looked for."""
    size = len(nodes)
    rows = [
        [sum(siemens[one].values()) if one == other else -siemens[one].get(other, 0.0) for other in nodes]
        + [float(one == other) for other in nodes]
        for one in nodes
    ]
    for pivot in range(size):
        scale = rows[pivot][pivot]
        rows[pivot] = [value / scale for value in rows[pivot]]
        for number, row in enumerate(rows):
            if number != pivot and row[pivot]:
                factor = row[pivot]
                rows[number] = [value - factor * other for value, other in zip(row, rows[pivot], strict=True)]
    return {one: dict(zip(nodes, rows[number][size:], strict=True)) for number, one in enumerate(nodes)}
