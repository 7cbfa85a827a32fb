"""Which way a load's current takes: its share in every branch, followed from the load to the sources.

Where currents meet, what leaves a node is mixed from what enters it in proportion. In a loom without loops
every share is 1; where two ways lie side by side they share as their resistances do.
"""

import heapq
from collections.abc import Iterator, Mapping, Sequence

from planner.currents.amps import Amps
from planner.currents.laws import Emf
from planner.currents.solver import Branch, Point

LEAST_AMPS = 1e-6  # less than this is leakage and followed nowhere
LEAST_SHARE = 1e-3


BEFORE, AFTER = 0, 1  # sides of a node: where current comes from, and where it goes
Ways = tuple[tuple[int, str], ...]  # branches on one side of a node, and the nodes that they lead to
# By node the branches that end there, sources left out; whether it is their first node; the other one.
Ends = Mapping[str, Sequence[tuple[int, bool, str]]]


def ends_of(branches: Sequence[Branch]) -> Ends:
    """Which branches end where: the same for all operating points of a loom."""
    found: dict[str, list[tuple[int, bool, str]]] = {}
    for index, (_, a, b, law) in enumerate(branches):
        if not isinstance(law, Emf):
            found.setdefault(a, []).append((index, True, b))
            found.setdefault(b, []).append((index, False, a))
    return found


class Flow:
    """The currents of one operating point, ready to be followed; branches are told by their index."""

    def __init__(self, branches: Sequence[Branch], point: Point, ends: Ends) -> None:
        self.branches, self.point, self.ends = branches, point, ends
        self.amps = Amps.of(point.amps)
        self._sides: dict[str, tuple[Ways, Ways]] = {}  # of nodes, as far as anybody came there
        self._shares: dict[int, dict[int, float]] = {}  # by load, as far as anybody asked; likewise the ways
        self._brought: dict[tuple[int, float], tuple[tuple[int, float], ...]] = {}
        self._before: dict[int, list[tuple[int, str]]] = {}
        self._after: dict[int, list[tuple[int, str]]] = {}

    def _at(self, node: str) -> tuple[Ways, Ways]:
        """The branches on both sides of a node."""
        sides = self._sides.get(node)
        if sides is None:
            amps = self.amps.by_branch
            found: tuple[list[tuple[int, str]], list[tuple[int, str]]] = ([], [])
            for index, is_first, other in self._ends_at(node):
                current = amps[index]
                if not -LEAST_AMPS < current < LEAST_AMPS:
                    found[AFTER if (current > 0.0) == is_first else BEFORE].append((index, other))
            before, after = found
            sides = self._sides[node] = (tuple(before), tuple(after))  # which no collection has to look at
        return sides

    def _ends_at(self, node: str) -> Sequence[tuple[int, bool, str]]:
        """The branches that end at a node, those left out that are not live where most are not."""
        ends, live = self.ends.get(node, ()), self.amps.live
        if len(ends) <= 2 * len(live):
            return ends
        found = ((index, self.branches[index]) for index in live)
        return [
            (index, is_first, branch.b if is_first else branch.a)
            for index, branch in found
            if not isinstance(branch.law, Emf)
            for is_first in (True, False)
            if (branch.a if is_first else branch.b) == node
        ]

    def shares(self, load: int) -> Mapping[int, float]:
        """The share of a load's current in every branch that carries some of it, by the branch's index."""
        if load not in self._shares:
            self._shares[load] = self._shares_of(load)
        return self._shares[load]

    def brought(self, load: int, amps: float) -> tuple[tuple[int, float], ...]:
        """What a load brings to each branch on its way if it takes some amps, to a hundredth of an ampere."""
        key = (load, amps)
        if key not in self._brought:
            whole = round(amps, 2)  # most branches of a way carry all of it
            self._brought[key] = tuple(
                [
                    (b, whole if part == 1.0 else round(amps * part, 2))
                    for b, part in self.shares(load).items()
                ]
            )
        return self._brought[key]

    def _shares_of(self, load: int) -> dict[int, float]:
        if abs(self.amps[load]) < LEAST_AMPS:
            return {}
        start, end = self._ends(load)
        found = {load: 1.0}
        for node, side, downhill in ((start, BEFORE, 1.0), (end, AFTER, -1.0)):
            for index, share in self._follow(node, side, downhill):
                found[index] = found.get(index, 0.0) + share
        return found

    def _follow(self, node: str, side: int, downhill: float) -> Iterator[tuple[int, float]]:
        """Yield branches and shares from a node on, nearest in voltage first, so that what meets is added."""
        amps, numbers, places = self.amps.by_branch, self.point.numbers, self.point.places
        waiting = {node: 1.0}
        heap = [(downhill * numbers[places[node]], node)]
        while heap:
            _, here = heapq.heappop(heap)
            share = waiting.pop(here, 0.0)
            if share < LEAST_SHARE:
                continue
            onward = self._at(here)[side]
            while len(onward) == 1 and not heap:  # nothing to mix with, nothing to share
                ((index, here),) = onward
                yield index, share
                onward = self._at(here)[side]
            total = sum([abs(amps[index]) for index, _ in onward])
            for index, there in onward:
                part = share * abs(amps[index]) / total
                yield index, part
                if there not in waiting:
                    heapq.heappush(heap, (downhill * numbers[places[there]], there))
                waiting[there] = waiting.get(there, 0.0) + part

    def before(self, load: int) -> list[int]:
        """The branches from the source to a load, along its largest share, in that order."""
        return [index for index, _ in reversed(self._way_before(load))]

    def after(self, load: int) -> list[int]:
        """The branches from a load to the zero, along its largest share, in that order."""
        return [index for index, _ in self._way_after(load)]

    def path(self, load: int) -> tuple[str, ...]:
        """The nodes from the source to the zero by way of a load, along its largest share."""
        up = [node for _, node in self._way_before(load)]
        return (*reversed(up), *self._ends(load), *(node for _, node in self._way_after(load)))

    def _way_before(self, load: int) -> list[tuple[int, str]]:
        if load not in self._before:
            self._before[load] = self._main_way(self._ends(load)[0], BEFORE)
        return self._before[load]

    def _way_after(self, load: int) -> list[tuple[int, str]]:
        if load not in self._after:
            self._after[load] = self._main_way(self._ends(load)[1], AFTER)
        return self._after[load]

    def _ends(self, load: int) -> tuple[str, str]:
        """Where the current enters a load, and where it leaves it."""
        branch = self.branches[load]
        return (branch.a, branch.b) if self.amps[load] > 0 else (branch.b, branch.a)

    def _main_way(self, node: str, side: int) -> list[tuple[int, str]]:
        way: list[tuple[int, str]] = []
        seen = {node}
        while steps := self._at(node)[side]:
            if len(steps) > 1:
                steps = (max(steps, key=lambda step: (abs(self.amps[step[0]]), step[1])),)
            index, node = steps[0]
            if node in seen:
                break
            seen.add(node)
            way.append((index, node))
        return way
