"""The fewest of some sets that hold all that they hold together: made smaller, parted, then branch and bound.

Sets are whole numbers, one bit for each thing. Knows nothing of vehicles.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

MOST_NODES = 20_000  # looked at before the search gives up and tells a bound
Holders = Mapping[int, int]  # for each thing the sets that hold it, a bit each


@dataclass
class Cover:
    """A search; ``best`` are the sets chosen by their number, ``at_least`` what no choice can do without."""

    sets: Sequence[int]
    most_nodes: int = MOST_NODES
    best: list[int] = field(default_factory=list)
    at_least: int = 0
    nodes: int = 0

    def __post_init__(self) -> None:
        self.best, left = reduced(_turned(dict(enumerate(self.sets))))
        self.at_least = len(self.best)
        for part in parts(left):
            best = self._greedy(part)
            bound = len(_apart(part))
            best = self._search(part, [], best)
            self.best += best
            self.at_least += len(best) if self.nodes < self.most_nodes else bound

    def _greedy(self, holders: Holders) -> list[int]:
        chosen: list[int] = []
        while holders:
            held = _turned(holders)
            best = max(held, key=lambda n: held[n].bit_count())
            chosen.append(best)
            holders = _without(holders, best)
        return chosen

    def _search(self, left: Holders, chosen: list[int], best: list[int]) -> list[int]:
        """``best``, or what is better: every set is tried that holds the thing that fewest hold."""
        if self.nodes >= self.most_nodes:
            return best
        self.nodes += 1
        forced, left = reduced(left)
        chosen = chosen + forced
        if len(chosen) + len(_apart(left)) >= len(best):
            return best
        if not left:
            return chosen
        held = _turned(left)
        thing = min(left, key=lambda t: (left[t].bit_count(), t))
        for number in sorted(_bits(left[thing]), key=lambda n: (-held[n].bit_count(), n)):
            best = self._search(_without(left, number), [*chosen, number], best)
        return best


def reduced(holders: Holders) -> tuple[list[int], Holders]:
    """Sets that must be taken, and what is left to choose: nothing in it comes along with anything else."""
    taken: list[int] = []
    while True:
        things = _hardest(holders)
        only = {held.bit_length() - 1 for held in things.values() if held.bit_count() == 1}
        taken += sorted(only)
        for number in only:
            things = _without(things, number)
        kept = sum(1 << number for number in _largest(_turned(things)))
        things = {thing: held & kept for thing, held in things.items()}
        if things == holders:
            return taken, things
        holders = things


def parts(holders: Holders) -> list[Holders]:
    """What is left to choose, parted where no set holds anything of two parts."""
    found: list[tuple[int, dict[int, int]]] = []
    for thing, held in holders.items():
        own, sets = {thing: held}, held
        apart = []
        for other_sets, other in found:
            if other_sets & held:
                own, sets = {**other, **own}, sets | other_sets
            else:
                apart.append((other_sets, other))
        found = [*apart, (sets, own)]
    return [own for _, own in found]


def _hardest(holders: Holders) -> dict[int, int]:
    """Without things that come along with another, whichever set is taken for that."""
    kept: dict[int, int] = {}
    for thing, held in sorted(holders.items(), key=lambda pair: (pair[1].bit_count(), pair[0])):
        if all(held & other != other for other in kept.values()):
            kept[thing] = held
    return kept


def _largest(held: Mapping[int, int]) -> list[int]:
    """Without sets of which another holds all that they hold."""
    kept: list[int] = []
    for number in sorted(held, key=lambda n: (-held[n].bit_count(), n)):
        if all(held[number] & ~held[other] for other in kept):
            kept.append(number)
    return kept


def _apart(holders: Holders) -> list[int]:
    """Things of which no set holds two: each takes a set of its own."""
    found: list[int] = []
    taken = 0
    for thing in sorted(holders, key=lambda t: (holders[t].bit_count(), t)):
        if not holders[thing] & taken:
            found.append(thing)
            taken |= holders[thing]
    return found


def _turned(rows: Mapping[int, int]) -> dict[int, int]:
    """For each thing the sets that hold it, from what each set holds; or the other way round."""
    columns: dict[int, int] = {}
    for row, bits in rows.items():
        for column in _bits(bits):
            columns[column] = columns.get(column, 0) | 1 << row
    return dict(sorted(columns.items()))


def _without(holders: Holders, number: int) -> dict[int, int]:
    """What is left when a set is taken."""
    return {thing: held for thing, held in holders.items() if not held >> number & 1}


def _bits(number: int) -> Iterator[int]:
    while number:
        low = number & -number
        yield low.bit_length() - 1
        number ^= low
