"""Elimination of nodes, star to mesh, level by level: nodes that no branch joins go together.

Who goes when and where its numbers stand is planned once; after that a level costs the same few steps of
numpy whatever the number of its nodes. Only positive numbers are added, so no digits are lost. A node that
nothing joins in some point has the sum 0 there, and nothing is divided.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, combinations

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
        order = [rows_of[p][n] for count, own in alike.items() for n in range(count) for p in own]
        self.order = None if order == list(range(len(order))) else numbers(order)
        self.places = [numbers(own) for own in alike.values()]
        self.size = len(rows_of)
        ends = list(accumulate([count * len(own) for count, own in alike.items()]))
        self.blocks = [
            (end - count * len(own), end, (count, len(own), -1))
            for end, (count, own) in zip(ends, alike.items(), strict=True)
        ]

    def _sums(self, rows: Array) -> Iterable[tuple[Numbers, Array]]:
        """Places and the sums of what belongs to them."""
        if self.order is not None:
            rows = rows.take(self.order, axis=0)
        sums = [total(rows[at:end].reshape(shape)) for at, end, shape in self.blocks]
        return zip(self.places, sums, strict=True)

    def add(self, into: Array, rows: Array) -> None:
        """Add what comes together."""
        for places, sums in self._sums(rows):
            into[places] += sums

    def of(self, rows: Array) -> Array:
        """What comes together at each place, where every place up to the last has something."""
        found = np.empty((self.size, rows.shape[1]))
        for places, sums in self._sums(rows):
            found[places] = sums
        return found


def numbers(found: Sequence[int]) -> Numbers:
    """Some places or nodes as numpy takes them."""
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
class Eliminated:
    """What is left: conductances of all pairs and what is pushed into each node; and how to go back.

    By level, the volts that its nodes have on their own and the shares of their neighbours' volts.
    """

    siemens: Array
    pushed: Array
    alone: Sequence[Array]
    shares: Sequence[Array]


class Levels:
    """The order in which nodes go; ``place`` says where the conductance of a pair stands.

    All go but those that are ``kept``, and those that have ``most`` neighbours or more when their turn comes:
    taking out a hub would join all its neighbours. Who stays stands in ``rest``.
    """

    def __init__(
        self, nodes: int, pairs: Sequence[Pair], kept: Collection[int], most: int | None = None
    ) -> None:
        self.nodes = nodes
        self.most = nodes + 1 if most is None else most
        self.place: dict[Pair, int] = {}
        self.near: list[set[int]] = [set() for _ in range(nodes)]
        for a, b in pairs:
            self._join(a, b)
        left = set(range(nodes)).difference(kept)
        self.levels = list(self._plan(left))
        self.rest = sorted({*kept, *left})

    def _join(self, a: int, b: int) -> int:
        self.near[a].add(b)
        self.near[b].add(a)
        return self.place.setdefault(pair_of(a, b), len(self.place))

    def _plan(self, left: set[int]) -> Iterator[_Level]:
        while nodes := list(self._apart(left)):
            left.difference_update(nodes)
            nodes = [node for node in nodes if self.near[node]]  # what nothing is joined to stays at 0 V
            if nodes:
                yield self._take_out(nodes)

    def _apart(self, left: set[int]) -> Iterator[int]:
        """Yield nodes with the fewest neighbours, hardly more than the fewest, that no branch joins."""
        fewest = min((len(self.near[node]) for node in left), default=0)
        barred: set[int] = set()
        for degree, node in sorted((len(self.near[node]), node) for node in left):
            if degree > fewest + 1 or degree >= self.most:
                return
            if node not in barred:
                barred |= self.near[node]
                yield node

    def _take_out(self, nodes: Sequence[int]) -> _Level:
        ways = [(number, other) for number, node in enumerate(nodes) for other in sorted(self.near[node])]
        own = [self.place[pair_of(nodes[number], other)] for number, other in ways]
        sizes = [len(self.near[node]) for node in nodes]
        corners = [
            pair
            for end, size in zip(accumulate(sizes), sizes, strict=True)
            for pair in combinations(range(end - size, end), 2)
        ]
        for number, other in ways:
            self.near[other].discard(nodes[number])
        places = [self._join(ways[one][1], ways[two][1]) for one, two in corners]
        whose, others = [number for number, _ in ways], [other for _, other in ways]
        return _Level(
            numbers(nodes),
            numbers(own),
            numbers(whose),
            numbers(others),
            Sums(whose),
            Sums(others),
            numbers([one for one, _ in corners]),
            numbers([two for _, two in corners]),
            Sums(places),
        )

    def take_out(self, siemens: Array, pushed: Array) -> Eliminated:
        """Eliminate, by the conductances of the pairs that were given and the amps pushed into each node."""
        width = pushed.shape[1]
        rows = np.zeros((len(self.place), width))
        rows[: len(siemens)] = siemens
        pushed = pushed.copy()
        shares, alone = [], []
        for level in self.levels:
            own = rows.take(level.own, axis=0)
            around = level.to_nodes.of(own)
            ohms = np.divide(1.0, around, out=np.zeros(around.shape), where=around > 0.0)
            share = own * ohms.take(level.whose, axis=0)
            push = pushed.take(level.nodes, axis=0)
            level.to_others.add(pushed, share * push.take(level.whose, axis=0))
            level.to_pairs.add(rows, share.take(level.one, axis=0) * own.take(level.two, axis=0))
            shares.append(share)
            alone.append(push * ohms)
        return Eliminated(rows, pushed, alone, shares)

    def put_back(self, volts: Array, gone: Eliminated) -> None:
        """Fill in the volts of the eliminated nodes, the last ones first."""
        for level, share, alone in zip(
            reversed(self.levels), reversed(gone.shares), reversed(gone.alone), strict=True
        ):
            volts[level.nodes] = alone + level.to_nodes.of(share * volts.take(level.others, axis=0))

    def reach(self, joined: Array, gone: Eliminated) -> None:
        """Whether the eliminated nodes are joined to one of those left that is: 1, or else 0."""
        for level, share in zip(reversed(self.levels), reversed(gone.shares), strict=True):
            near = joined.take(level.others, axis=0) * (share > 0.0)
            joined[level.nodes] = level.to_nodes.of(near) > 0.0
