"""The fewest of some sets that hold all that they hold together: branch and bound, or greedy with a bound.

Sets are whole numbers, one bit for each thing. Knows nothing of vehicles.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

MOST_NODES = 20_000  # looked at before the search gives up and tells a bound


@dataclass
class Cover:
    """A search; ``best`` are the sets chosen by their number, ``at_least`` what no choice can do without."""

    sets: Sequence[int]
    most_nodes: int = MOST_NODES
    best: list[int] = field(default_factory=list)
    at_least: int = 0
    nodes: int = 0

    def __post_init__(self) -> None:
        whole = 0
        for own in self.sets:
            whole |= own
        self._holders = self._needed(whole)
        self._kept = self._useful()
        needed = sum(1 << thing for thing in self._holders)
        self.best = self._greedy(needed)
        bound = len(self._apart(needed))
        self._search(needed, [])
        self.at_least = len(self.best) if self.nodes < self.most_nodes else bound

    def _needed(self, whole: int) -> dict[int, int]:
        """For each thing the sets that hold it, as bits; without things that come along with another."""
        holders: dict[int, int] = {}
        for thing in _bits(whole):
            held = sum(1 << n for n, own in enumerate(self.sets) if own >> thing & 1)
            holders[thing] = held
        kept: dict[int, int] = {}
        for thing, held in sorted(holders.items(), key=lambda pair: (pair[1].bit_count(), pair[0])):
            if all(held & other != other for other in kept.values()):
                kept[thing] = held
        return kept

    def _useful(self) -> list[int]:
        """The sets that hold something needed that no larger one holds as well, the largest first."""
        needed = sum(1 << thing for thing in self._holders)
        own = {n: s & needed for n, s in enumerate(self.sets) if s & needed}
        ordered = sorted(own, key=lambda n: (-own[n].bit_count(), n))
        kept: list[int] = []
        for number in ordered:
            if all(own[number] & ~own[other] for other in kept):
                kept.append(number)
        return kept

    def _greedy(self, left: int) -> list[int]:
        chosen: list[int] = []
        while left:
            best = max(self._kept, key=lambda n: (self.sets[n] & left).bit_count())
            chosen.append(best)
            left &= ~self.sets[best]
        return chosen

    def _apart(self, left: int) -> list[int]:
        """Things of which no set holds two: each takes a set of its own."""
        found: list[int] = []
        taken = 0
        for thing, held in self._holders.items():
            if left >> thing & 1 and not held & taken:
                found.append(thing)
                taken |= held
        return found

    def _search(self, left: int, chosen: list[int]) -> None:
        """Try every set that holds the thing that fewest hold."""
        if self.nodes >= self.most_nodes:
            return
        self.nodes += 1
        if not left:
            if len(chosen) < len(self.best):
                self.best = list(chosen)
            return
        if len(chosen) + len(self._apart(left)) >= len(self.best):
            return
        thing = next(thing for thing in self._holders if left >> thing & 1)  # those of few sets come first
        for number in self._kept:
            if self.sets[number] >> thing & 1:
                self._search(left & ~self.sets[number], [*chosen, number])


def _bits(number: int) -> Iterator[int]:
    while number:
        low = number & -number
        yield low.bit_length() - 1
        number ^= low
