"""Which setting of a part each position can be, by counting what is joined there and what is not."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.inquiry.asked import Asked
from planner.inquiry.bench_view import BenchView
from planner.inquiry.masks import Masks, bits

NOT_READ = -1  # the place of a position without any reading


@dataclass(frozen=True, slots=True)
class Placement:
    """The group of like settings of each position, and the marks that each terminal can then be, as bits."""

    places: tuple[int, ...]
    terminals: tuple[int, ...]


def placements(view: BenchView, asked: Asked, masks: Masks, most_wrong: int) -> Iterator[Placement]:
    """Yield every way to place the positions in which no terminal has too many joints or gaps.

    Each position is another setting; a position is placed where a coil is fed if the person fed one.
    """
    placing = _Placing(view, asked, masks, most_wrong)
    everywhere = bits(masks.size)
    yield from placing.go_on(
        placing.order, [NOT_READ] * len(asked.bench.positions), [everywhere] * len(asked.bench.terminals)
    )


class _Placing:
    """One position after another, those with most readings first."""

    def __init__(self, view: BenchView, asked: Asked, masks: Masks, most_wrong: int) -> None:
        self.view, self.asked, self.masks, self.most_wrong = view, asked, masks, most_wrong
        read = asked.by_position
        self.order = sorted(read, key=lambda number: (-len(read[number]), number))
        self.domains: Mapping[int, Sequence[int]] = {n: list(self._domain(n)) for n in self.order}

    def go_on(self, order: Sequence[int], places: list[int], terminals: list[int]) -> Iterator[Placement]:
        """Yield the ways to place the positions that are left."""
        if not order:
            yield Placement(tuple(places), tuple(terminals))
            return
        position, *rest = order
        for place in self.domains[position]:
            if places.count(place) < len(self.view.alike[place].settings):
                narrowed = self._narrowed(position, place, terminals)
                if all(narrowed):
                    places[position] = place
                    yield from self.go_on(rest, places, narrowed)
                    places[position] = NOT_READ

    def _domain(self, position: int) -> Iterator[int]:
        """Yield the groups of settings with enough joints and gaps for a position."""
        powered = self.asked.bench.positions[position] in self.asked.bench.powered
        joined, parted = (sum(counts) for counts in zip(*self.asked.met[position].values(), strict=True))
        for place, alike in enumerate(self.view.alike):
            joints, gaps = (sum(counts) for counts in self.masks.joints_and_gaps(place))
            # Each pair is counted at both its ends.
            enough = joined <= joints + 2 * self.most_wrong and parted <= gaps + 2 * self.most_wrong
            if alike.is_powered is powered and enough:
                yield place

    def _narrowed(self, position: int, place: int, terminals: Sequence[int]) -> list[int]:
        """The marks with as many joints and gaps, in a setting, as each terminal has in a position."""
        joints, gaps = self.masks.joints_and_gaps(place)
        narrowed = list(terminals)
        for terminal, (joined, parted) in self.asked.met[position].items():
            narrowed[terminal] &= bits(
                mark
                for mark in self.masks.size
                if joined <= joints[mark] + self.most_wrong and parted <= gaps[mark] + self.most_wrong
            )
        return narrowed
