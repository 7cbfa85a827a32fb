"""Who is eliminated when, and where its numbers stand: planned once for all points of a loom."""

from collections.abc import Collection, Iterator, Sequence
from itertools import combinations

from planner.currents.elimination import Elimination, Level
from planner.currents.rows import Sums, numbers

SLACK = 1  # neighbours that a node may have more than another and still go with it

Pair = tuple[int, int]  # of nodes, the lower number first


def pair_of(a: int, b: int) -> Pair:
    """Two nodes in the order in which a pair of them is known."""
    return (a, b) if a < b else (b, a)


class Levels:
    """The order in which nodes go; ``place`` says in which row the conductance of a pair stands.

    All nodes go but those that are ``kept``, and those that have ``most`` neighbours or more when their turn
    comes: taking out a hub would join all its neighbours. Who stays stands in ``rest``.
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
        self._levels = list(self._plan(left))
        self.rest = sorted({*kept, *left})

    def planned(self) -> Elimination:
        """What is needed to eliminate them so."""
        ends = numbers([node for pair in self.place for node in pair])
        return Elimination(self.nodes, ends.reshape(-1, 2), self._levels)

    def _join(self, a: int, b: int) -> int:
        self.near[a].add(b)
        self.near[b].add(a)
        return self.place.setdefault(pair_of(a, b), self.nodes + 1 + len(self.place))

    def _plan(self, left: set[int]) -> Iterator[Level]:
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

    def _level_of(self, nodes: Sequence[int]) -> Level:
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
        return Level(
            numbers(nodes),
            most + 1,
            numbers([row for rows in own for row in rows]),
            numbers([node for ends in others for node in ends]),
            numbers(one)[sums.order],
            numbers(two)[sums.order],
            sums,
        )
