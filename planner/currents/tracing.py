"""Which way a load's current takes: its share in every branch, followed from the load to the sources.

Where currents meet, what leaves a node is mixed from what enters it in proportion. In a loom without loops
every share is 1; where two ways lie side by side they share as their resistances do.
"""

import heapq
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.currents.amps import Amps
from planner.currents.laws import Emf
from planner.currents.solver import Branch, Point

LEAST_AMPS = 1e-6  # less than this is leakage and followed nowhere
LEAST_SHARE = 1e-3
SAME_SHARE = 1e-4  # shares that differ less are the same: they name loads and rank positions

BEFORE, AFTER = 0, 1  # sides of a node: where current comes from, and where it goes
Ways = Sequence[tuple[int, str]]  # branches on one side of a node, and the nodes that they lead to
# By node the branches that end there, sources left out; whether it is their first node; the other one.
Ends = Mapping[str, Sequence[tuple[int, bool, str]]]
Brought = tuple[tuple[int, float], ...]  # amps by branch
Parts = tuple[Sequence[int], Sequence[float]]  # branches and the share that each takes where ways part


def ends_of(branches: Sequence[Branch]) -> Ends:
    """Which branches end where: the same for all operating points of a loom."""
    found: dict[str, list[tuple[int, bool, str]]] = {}
    for index, (_, a, b, law) in enumerate(branches):
        if not isinstance(law, Emf):
            found.setdefault(a, []).append((index, True, b))
            found.setdefault(b, []).append((index, False, a))
    return found


@dataclass(frozen=True, slots=True)
class _Followed:
    """A load's current, followed, and how it parted on its way."""

    shares: Mapping[int, float]
    parts: Sequence[Parts]
    brought: dict[float, Brought]  # by the load's amps, as far as anybody asked


@dataclass(frozen=True, slots=True)
class _MainWay:
    """A way along the largest share; ``taken`` is which of several ways that was."""

    way: list[tuple[int, str]]
    taken: list[tuple[Ways, tuple[int, str]]]


class Flow:
    """The currents of one operating point, ready to be followed; branches are told by their index.

    ``like`` is that of a point much like it, of a loom whose branches are numbered alike. Where current flows
    the same way in every branch, and parts in the same shares, what was followed there need not be again.
    """

    def __init__(
        self, branches: Sequence[Branch], point: Point, ends: Ends, like: "Flow | None" = None
    ) -> None:
        self.branches, self.point, self.ends = branches, point, ends
        self.amps = Amps.of(point.amps)
        self._sides: dict[str, tuple[Ways, Ways]] = {}  # of nodes, as far as anybody came there
        self._followed: dict[int, _Followed] = {}  # by load, as far as anybody asked
        self._ways: dict[tuple[int, int], _MainWay] = {}  # by load and side
        # Of the point that is like it:
        self._there: Mapping[int, _Followed] = {}
        self._ways_there: Mapping[tuple[int, int], _MainWay] = {}
        if like is not None and like._directions == self._directions:
            self._sides = like._sides  # filled by both: it depends on nothing but the directions
            self._there, self._ways_there = like._followed, like._ways

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

    @cached_property
    def _directions(self) -> tuple[object, ...]:
        """The live branches, and which way current flows there."""
        own = self.amps.own
        forward, back = [a >= LEAST_AMPS for a in own], [a <= -LEAST_AMPS for a in own]
        return self.amps.live, forward, back

    def shares(self, load: int) -> Mapping[int, float]:
        """The share of a load's current in every branch that carries some of it, by the branch's index."""
        return self._followed_from(load).shares

    def brought(self, load: int, amps: float) -> Brought:
        """What a load brings to each branch on its way if it takes some amps, to a hundredth of an ampere."""
        followed = self._followed_from(load)
        if amps not in followed.brought:
            whole = round(amps, 2)  # most branches of a way carry all of it
            followed.brought[amps] = tuple(
                [(b, whole if part == 1.0 else round(amps * part, 2)) for b, part in followed.shares.items()]
            )
        return followed.brought[amps]

    def _followed_from(self, load: int) -> _Followed:
        known = self._followed.get(load)
        if known is None:
            known = self._there.get(load)
            if known is None or not all(self._is_parted(*each) for each in known.parts):
                known = self._follow_from(load)
            self._followed[load] = known
        return known

    def _is_parted(self, branches: Sequence[int], parts: Sequence[float]) -> bool:
        """Whether a current parts in the same shares as it is said to."""
        amps = self.amps.by_branch
        sizes = [abs(amps[index]) for index in branches]
        total = sum(sizes)
        off = [abs(size - part * total) for size, part in zip(sizes, parts, strict=True)]
        return max(off) < SAME_SHARE * total

    def _follow_from(self, load: int) -> _Followed:
        parts: list[Parts] = []
        found: dict[int, float] = {}
        if abs(self.amps[load]) >= LEAST_AMPS:
            found[load] = 1.0
            start, end = self._ends(load)
            for node, side, downhill in ((start, BEFORE, 1.0), (end, AFTER, -1.0)):
                for index, share in self._follow(node, side, downhill, parts):
                    found[index] = found.get(index, 0.0) + share
        return _Followed(found, parts, {})

    def _follow(
        self,
        node: str,
        side: int,
        downhill: float,
        parts: list[Parts],
    ) -> Iterator[tuple[int, float]]:
        """Yield branches and shares from a node on, nearest in voltage first, so that what meets is added.

        Where ways part, which they are and their ``parts`` are noted.
        """
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
            sizes = [abs(amps[index]) for index, _ in onward]
            total = sum(sizes)
            if len(onward) > 1:
                parts.append(([index for index, _ in onward], [size / total for size in sizes]))
            for (index, there), size in zip(onward, sizes, strict=True):
                part = share * size / total
                yield index, part
                if there not in waiting:
                    heapq.heappush(heap, (downhill * numbers[places[there]], there))
                waiting[there] = waiting.get(there, 0.0) + part

    def before(self, load: int) -> list[int]:
        """The branches from the source to a load, along its largest share, in that order."""
        return [index for index, _ in reversed(self._way(load, BEFORE))]

    def after(self, load: int) -> list[int]:
        """The branches from a load to the zero, along its largest share, in that order."""
        return [index for index, _ in self._way(load, AFTER)]

    def path(self, load: int) -> tuple[str, ...]:
        """The nodes from the source to the zero by way of a load, along its largest share."""
        up = [node for _, node in self._way(load, BEFORE)]
        return (*reversed(up), *self._ends(load), *(node for _, node in self._way(load, AFTER)))

    def _ends(self, load: int) -> tuple[str, str]:
        """Where the current enters a load, and where it leaves it."""
        branch = self.branches[load]
        return (branch.a, branch.b) if self.amps[load] > 0 else (branch.b, branch.a)

    def _way(self, load: int, side: int) -> Ways:
        """The branches on one side of a load along its largest share, and the nodes that they lead to."""
        known = self._ways.get((load, side))
        if known is None:
            known = self._ways_there.get((load, side))
            if known is None or any(self._largest(ways) != taken for ways, taken in known.taken):
                known = self._main_way(self._ends(load)[side], side)
            self._ways[load, side] = known
        return known.way

    def _main_way(self, node: str, side: int) -> _MainWay:
        found = _MainWay([], [])
        seen = {node}
        while ways := self._at(node)[side]:
            step = ways[0] if len(ways) == 1 else self._largest(ways)
            if len(ways) > 1:
                found.taken.append((ways, step))
            node = step[1]
            if node in seen:
                break
            seen.add(node)
            found.way.append(step)
        return found

    def _largest(self, ways: Ways) -> tuple[int, str]:
        """The way of several that most current takes."""
        amps = self.amps.by_branch
        return max(ways, key=lambda step: (abs(amps[step[0]]), step[1]))
