"""Elimination of nodes, star to mesh, level by level: nodes that no branch joins go together.

Who goes when and where its numbers stand is planned once; after that a level costs the same few steps of
numpy whatever the number of its nodes. What is pushed into a node goes the way of a conductance that leads to
no node, so both are rows of one array. Only positive numbers are added to conductances, so no digits are
lost. A node that nothing joins in some point has the sum 0 there, and nothing is divided.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from planner.currents.curves import Array
from planner.currents.rows import Numbers, Sums, numbers, total

SLACK = 1  # neighbours that a node may have more than another and still go with it

Pair = tuple[int, int]  # of nodes, the lower number first


def pair_of(a: int, b: int) -> Pair:
    """Two nodes in the order in which a pair of them is known."""
    return (a, b) if a < b else (b, a)


@dataclass(frozen=True, slots=True)
class _Level:
    """Nodes that go together, and what each has, slot by slot: its conductances, then what is pushed into it.

    A node with fewer neighbours than another has an empty slot, of the row that stays 0.
    """

    nodes: Numbers
    slots: int
    own: Numbers  # the rows of what they have
    others: Numbers  # which neighbour each leads to
    one: Numbers  # two slots of one node, by their place in ``own``: what they make together
    two: Numbers
    to_rows: Sums


class Levels:
    """The order in which nodes go; ``place`` says in which row the conductance of a pair stands.

    Before these rows stand those of what is pushed into each node, and one that stays 0. All nodes go but
    those that are ``kept``, and those that have ``most`` neighbours or more when their turn comes: taking out
    a hub would join all its neighbours. Who stays stands in ``rest``.
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
        self.height = nodes + 1 + len(self.place)

    def _join(self, a: int, b: int) -> int:
        self.near[a].add(b)
        self.near[b].add(a)
        return self.place.setdefault(pair_of(a, b), self.nodes + 1 + len(self.place))

    def _plan(self, left: set[int]) -> Iterator[_Level]:
        while nodes := list(self._apart(left)):
            left.difference_update(nodes)
            nodes = [node for node in nodes if self.near[node]]  # what nothing is joined to stays at 0 V
            if nodes:
                yield self._level_of(nodes)

    def _apart(self, left: set[int]) -> Iterator[int]:
        """Yield nodes with the fewest neighbours, hardly more than the fewest, that no branch joins."""
        fewest = min((len(self.near[node]) for node in left), default=0)
        barred: set[int] = set()
        for degree, node in sorted((len(self.near[node]), node) for node in left):
            if degree > fewest + SLACK or degree >= self.most:
                return
            if node not in barred:
                barred |= self.near[node]
                yield node

    def _level_of(self, nodes: Sequence[int]) -> _Level:
        none, width = self.nodes, len(nodes)
        around = [sorted(self.near[node]) for node in nodes]
        most = max(map(len, around))
        own = [[none] * width for _ in range(most)] + [list(nodes)]
        others = [[none] * width for _ in range(most + 1)]
        for n, (node, near) in enumerate(zip(nodes, around, strict=True)):
            for slot, other in enumerate(near):
                own[slot][n], others[slot][n] = self.place[pair_of(node, other)], other
                self.near[other].discard(node)
        places, one, two = [], [], []
        for n, near in enumerate(around):
            meeting = [(a, b, self._join(near[a], near[b])) for a, b in combinations(range(len(near)), 2)]
            for slot, other, place in (*meeting, *((slot, most, node) for slot, node in enumerate(near))):
                one.append(slot * width + n)
                two.append(other * width + n)
                places.append(place)
        sums = Sums(places)
        return _Level(
            numbers(nodes),
            most + 1,
            numbers([row for rows in own for row in rows]),
            numbers([node for ends in others for node in ends]),
            numbers(one)[sums.order],
            numbers(two)[sums.order],
            sums,
        )

    def take_out(self, rows: Array) -> list[Array]:
        """Eliminate in place; what is left stands in the rows of those that stay.

        What is returned leads back: by level and slot the share that each neighbour's volts have in a node's,
        and last the volts that the node has on its own.
        """
        gone = []
        for level in self.levels:
            own = rows.take(level.own, axis=0)
            slots = own.reshape(level.slots, len(level.nodes), own.shape[1])
            around = total(slots[:-1])
            ohms = np.divide(1.0, around, out=np.zeros(around.shape), where=around > 0.0)
            shares = slots * ohms
            met = shares.reshape(own.shape).take(level.one, axis=0)
            met *= own.take(level.two, axis=0)
            level.to_rows.add_sorted(rows, met)
            gone.append(shares)
        return gone

    def put_back(self, volts: Array, gone: Sequence[Array]) -> None:
        """Fill in the volts of the eliminated nodes, the last ones first.

        Below all nodes stands a row of 1.
        """
        for level, shares in zip(reversed(self.levels), reversed(gone), strict=True):
            near = volts.take(level.others, axis=0).reshape(shares.shape)
            near *= shares
            volts[level.nodes] = total(near)

    def reach(self, joined: Array, gone: Sequence[Array]) -> None:
        """Whether the eliminated nodes are joined to one of those left that is: 1, or else 0.

        Below all nodes stands a row of 0.
        """
        for level, shares in zip(reversed(self.levels), reversed(gone), strict=True):
            near = joined.take(level.others, axis=0).reshape(shares.shape) * (shares > 0.0)
            joined[level.nodes] = total(near) > 0.0
