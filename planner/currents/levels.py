"""Elimination of nodes, star to mesh, level by level: nodes that no branch joins go together.

Who goes when and where its numbers stand is planned once; after that a level costs the same few steps of
numpy whatever the number of its nodes. Only positive numbers are added, so no digits are lost. A node that
nothing joins in some point has the sum 0 there, and nothing is divided.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array

Numbers = NDArray[np.intp]
Mask = NDArray[np.bool_]
Pair = tuple[int, int]  # of nodes, the lower number first


def pair_of(a: int, b: int) -> Pair:
    """Two nodes in the order in which a pair of them is known."""
    return (a, b) if a < b else (b, a)


def total(rows: Array) -> Array:
    """The sum over the first axis, halved again and again: the same digits however many points there are."""
    while len(rows) > 1:
        half = len(rows) // 2
        added = rows[:half] + rows[half : 2 * half]
        rows = np.concatenate((added, rows[2 * half :])) if len(rows) % 2 else added
    found: Array = rows[0]
    return found


class Sums:
    """Adds rows of an array to those of another, by the place that each belongs to."""

    def __init__(self, places: Sequence[int]) -> None:
        rows_of: dict[int, list[int]] = {}
        for row, place in enumerate(places):
            rows_of.setdefault(place, []).append(row)
        alike: dict[int, list[int]] = {}  # places by how many rows belong to each
        for place, rows in rows_of.items():
            alike.setdefault(len(rows), []).append(place)
        self.groups = [(count, _numbers(own)) for count, own in alike.items()]
        self.order = _numbers(
            [rows_of[p][n] for count, own in alike.items() for n in range(count) for p in own]
        )

    def add(self, into: Array, rows: Array) -> None:
        """Add what comes together."""
        rows = rows.take(self.order, axis=0)
        at = 0
        for count, places in self.groups:
            block = rows[at : (at := at + count * places.size)]
            into[places] += total(block.reshape(count, places.size, -1))


def _numbers(found: Sequence[int]) -> Numbers:
    return np.array(found, dtype=np.intp)


@dataclass(frozen=True, slots=True)
class _Level:
    """Nodes that go together, and their conductances side by side."""

    nodes: Numbers
    own: Numbers  # where the conductances stand
    whose: Numbers  # to which of the nodes each belongs
    others: Numbers  # which neighbour it leads to
    to_nodes: Sums
    to_others: Sums
    one: Numbers  # two conductances of one node, by their place in ``own``, for each pair of neighbours
    two: Numbers
    to_pairs: Sums


@dataclass(frozen=True, slots=True)
class Solved:
    """Volts by node, and for each level the shares that its nodes have of their neighbours' volts."""

    volts: Array
    shares: Sequence[Array]


class Levels:
    """The order in which all nodes but one go; ``place`` says where the conductance of a pair stands."""

    def __init__(self, nodes: int, pairs: Sequence[Pair], kept: int) -> None:
        self.nodes, self.kept = nodes, kept
        self.place: dict[Pair, int] = {}
        self.near: list[set[int]] = [set() for _ in range(nodes)]
        for a, b in pairs:
            self._join(a, b)
        self.levels = list(self._plan())

    def _join(self, a: int, b: int) -> int:
        self.near[a].add(b)
        self.near[b].add(a)
        return self.place.setdefault(pair_of(a, b), len(self.place))

    def _plan(self) -> Iterator[_Level]:
        left = set(range(self.nodes)) - {self.kept}
        while left:
            nodes = list(self._apart(left))
            left.difference_update(nodes)
            nodes = [node for node in nodes if self.near[node]]  # what nothing is joined to stays at 0 V
            if nodes:
                yield self._take_out(nodes)

    def _apart(self, left: set[int]) -> Iterator[int]:
        """Yield nodes with the fewest neighbours, hardly more than the fewest, that no branch joins."""
        most = min(len(self.near[node]) for node in left) + 1
        barred: set[int] = set()
        for degree, node in sorted((len(self.near[node]), node) for node in left):
            if degree > most:
                return
            if node not in barred:
                barred |= self.near[node]
                yield node

    def _take_out(self, nodes: Sequence[int]) -> _Level:
        ways = [(number, other) for number, node in enumerate(nodes) for other in sorted(self.near[node])]
        own = [self.place[pair_of(nodes[number], other)] for number, other in ways]
        corners = [
            (one, two)
            for one, (number, _) in enumerate(ways)
            for two in range(one + 1, len(ways))
            if ways[two][0] == number
        ]
        for number, other in ways:
            self.near[other].discard(nodes[number])
        places = [self._join(ways[one][1], ways[two][1]) for one, two in corners]
        whose, others = [number for number, _ in ways], [other for _, other in ways]
        return _Level(
            _numbers(nodes),
            _numbers(own),
            _numbers(whose),
            _numbers(others),
            Sums(whose),
            Sums(others),
            _numbers([one for one, _ in corners]),
            _numbers([two for _, two in corners]),
            Sums(places),
        )

    def solve(self, siemens: Array, pushed: Array) -> Solved:
        """Volts, by the conductances of the pairs that were given and the amps pushed into each node."""
        width = pushed.shape[1]
        rows = np.zeros((len(self.place), width))
        rows[: len(siemens)] = siemens
        pushed = pushed.copy()
        shares, alone = [], []
        for level in self.levels:
            own = rows.take(level.own, axis=0)
            around = np.zeros((level.nodes.size, width))
            level.to_nodes.add(around, own)
            ohms = np.divide(1.0, around, out=np.zeros(around.shape), where=around > 0.0)
            share = own * ohms.take(level.whose, axis=0)
            push = pushed.take(level.nodes, axis=0)
            level.to_others.add(pushed, share * push.take(level.whose, axis=0))
            level.to_pairs.add(rows, share.take(level.one, axis=0) * own.take(level.two, axis=0))
            shares.append(share)
            alone.append(push * ohms)
        volts = np.zeros((self.nodes, width))
        for level, share, found in zip(reversed(self.levels), reversed(shares), reversed(alone), strict=True):
            level.to_nodes.add(found, share * volts.take(level.others, axis=0))
            volts[level.nodes] = found
        return Solved(volts, shares)

    def joined(self, solved: Solved) -> Mask:
        """Which nodes something joins to the one that is kept, in which points."""
        joined = np.zeros(solved.volts.shape)
        joined[self.kept] = 1.0
        for level, share in zip(reversed(self.levels), reversed(solved.shares), strict=True):
            found = np.zeros((level.nodes.size, solved.volts.shape[1]))
            level.to_nodes.add(found, joined.take(level.others, axis=0) * (share > 0.0))
            joined[level.nodes] = found > 0.0
        return joined > 0.0
