"""The order of the tasks: every demand kept, and among such orders the fewest changes of place.

Whatever can be done where one stands is done there before one goes on: it costs nothing and only frees more.
So only the places are searched, best first. What is left to visit, each place at least once, bounds the rest
from below, so the first complete order that comes up is the best: fewest changes of place, then fewest
changes from one part of the vehicle to another. Beyond ``MOST_STATES`` the search goes on from the most
promising order alone, and the result says what it is proved against.
"""

import heapq
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import pairwise

MOST_STATES = 5_000


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a task is done, as far as its order goes."""

    place: str
    zone: str
    rank: int  # among tasks at one place that may all be done next: the lowest first


@dataclass(frozen=True, slots=True)
class Order:
    """An order of tasks by number, visit by visit."""

    visits: tuple[tuple[str, tuple[int, ...]], ...]  # place, tasks
    at_least: int  # changes of place that no order can do without
    is_proven: bool

    @property
    def tasks(self) -> tuple[int, ...]:
        """The tasks one after another."""
        return tuple(task for _, tasks in self.visits for task in tasks)

    @property
    def changes(self) -> int:
        """How often one goes from one place to another."""
        return max(0, len(self.visits) - 1)


_Path = tuple[int, ...]  # places, by their number, in the order of the visits
_Entry = tuple[int, int, _Path, int]  # visits at least, zones at least, path, what is done as a set of bits


def arrange(
    spots: Sequence[Spot], demands: Sequence[tuple[int, int]], most_states: int = MOST_STATES
) -> Order:
    """The order of some tasks; ``demands`` are pairs of numbers, the first before the second.

    The demands must not contradict one another; places come in the order in which tasks first name them where
    nothing else decides.
    """
    return _Search(spots, demands).run(most_states)


class _Search:
    """Best first over the places visited, what is done kept as a set of bits."""

    def __init__(self, spots: Sequence[Spot], demands: Sequence[tuple[int, int]]) -> None:
        self.spots = spots
        self.before = [0] * len(spots)
        for first, then in demands:
            self.before[then] |= 1 << first
        self.places = list(dict.fromkeys(spot.place for spot in spots))
        self.zones: Mapping[str, str] = {spot.place: spot.zone for spot in spots}
        self.at = [
            sorted((n for n, s in enumerate(spots) if s.place == place), key=lambda n: (spots[n].rank, n))
            for place in self.places
        ]
        self.mask = [reduce(lambda bits, n: bits | 1 << n, tasks, 0) for tasks in self.at]
        self.all = (1 << len(spots)) - 1

    def run(self, most_states: int) -> Order:
        """The best order, proven unless the search grew too large."""
        queue: list[_Entry] = [(*self._at_least((), 0), (), 0)]
        seen: dict[tuple[int, int], tuple[int, int]] = {}
        at_least = 0
        is_proven = True
        while True:
            visits, zones, path, done = heapq.heappop(queue)
            if is_proven:
                at_least = visits
            if done == self.all:
                return Order(self._visits(path), max(0, at_least - 1), is_proven)
            here = path[-1] if path else -1
            if is_proven and seen.get((done, here), (visits + 1, 0)) <= (visits, zones):
                continue
            seen[done, here] = (visits, zones)
            if len(seen) > most_states:
                is_proven, queue = False, []
            for place, after in self._next(here, done):
                further = (*path, place)
                heapq.heappush(queue, (*self._at_least(further, after), further, after))

    def _next(self, here: int, done: int) -> list[tuple[int, int]]:
        """The places that may come next, with what is done then.

        A place in the same zone that can be finished comes at once: no order is better for putting it off.
        """
        every = [(place, self._stand(place, done)) for place in range(len(self.places)) if place != here]
        found = [(place, after) for place, after in every if after != done]
        for place, after in found:
            near = here >= 0 and self.zones[self.places[place]] == self.zones[self.places[here]]
            if near and not self.mask[place] & ~after:
                return [(place, after)]
        return found

    def _stand(self, place: int, done: int) -> int:
        """What is done when one has stood at a place as long as there was anything to do."""
        for task in self._done_at(place, done):
            done |= 1 << task
        return done

    def _done_at(self, place: int, done: int) -> list[int]:
        """The tasks that are done on a visit, in their order."""
        found: list[int] = []
        while True:
            ready = (
                n for n in self.at[place] if not done >> n & 1 and self.before[n] & done == self.before[n]
            )
            task = next(ready, None)
            if task is None:
                return found
            found.append(task)
            done |= 1 << task

    def _at_least(self, path: _Path, done: int) -> tuple[int, int]:
        """Visits and changes of zone of a path and of what at least must follow."""
        left = [p for p, mask in enumerate(self.mask) if mask & ~done]
        zones = [self.zones[self.places[p]] for p in path]
        changes = sum(one != other for one, other in pairwise(zones))
        ahead = {self.zones[self.places[p]] for p in left} - {*zones[-1:]}
        return len(path) + len(left), changes + len(ahead)

    def _visits(self, path: _Path) -> tuple[tuple[str, tuple[int, ...]], ...]:
        done, visits = 0, []
        for place in path:
            tasks = self._done_at(place, done)
            done = reduce(lambda bits, n: bits | 1 << n, tasks, done)
            visits.append((self.places[place], tuple(tasks)))
        return tuple(visits)
