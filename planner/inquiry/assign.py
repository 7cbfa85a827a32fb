"""Every way to call the terminals and settings of a part by a person's names so that the readings fit."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.inquiry.asked import Asked
from planner.inquiry.bench_view import BenchView
from planner.inquiry.masks import Masks
from planner.inquiry.placing import Placement, placements
from planner.inquiry.symmetry import Exchange, exchanges, orbits
from planner.model.readings import Reading

MOST_WAYS = 200  # of one part; more are left when next to nothing was read
MOST_STEPS = 200_000  # terminals tried on one part


@dataclass(frozen=True, slots=True)
class Way:
    """One way: the mark of each terminal and the group of like settings of each position, in their order.

    ``times`` is how many ways there are that differ from it only by terminals that a meter finds alike, it
    itself among them; ``wrong`` are the readings that do not fit.
    """

    marks: tuple[str, ...]
    places: tuple[int, ...]
    times: int
    wrong: tuple[Reading, ...] = ()


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways found; not all of them if the search was stopped."""

    found: tuple[Way, ...]
    is_complete: bool


def find_ways(view: BenchView, asked: Asked, most_wrong: int = 0) -> Ways:
    """Find every way in which at most so many readings do not fit.

    Each terminal of the person is another one of the part, and each of the part's is used; its case, or what
    else its mounting connects, may have been left out. Each position is another setting.
    """
    search = _Search(view, asked, most_wrong)
    ways = tuple(search.ways()) if search.has_the_size else ()
    return Ways(ways, not search.is_stopped)


class _Search:
    """Positions first, then one terminal after another; what cannot fit is not followed."""

    def __init__(self, view: BenchView, asked: Asked, most_wrong: int) -> None:
        self.view, self.asked, self.most_wrong = view, asked, most_wrong
        self.is_stopped = False
        self.steps = self.count = 0
        self.masks = Masks(view)
        terminals = view.part.terminals
        self.wired = frozenset(n for n, mark in enumerate(view.marks) if terminals[mark].by == "wire")

    @property
    def has_the_size(self) -> bool:
        """Whether the part has so many terminals and settings as the person names."""
        bench = self.asked.bench
        powered = len(bench.powered)
        named = ((powered, True), (len(bench.positions) - powered, False))
        return len(self.wired) <= len(bench.terminals) <= len(self.view.marks) and all(
            count <= sum(len(a.settings) for a in self.view.alike if a.is_powered is is_powered)
            for count, is_powered in named
        )

    def ways(self) -> Iterator[Way]:
        """Yield the ways."""
        for placement in placements(self.view, self.asked, self.masks, self.most_wrong):
            yield from self._terminals(placement, [], [])
            if self.is_stopped:
                return

    @cached_property
    def _exchanges(self) -> tuple[Exchange, ...]:
        """What a meter finds alike; asked for only when positions fit."""
        return exchanges(self.view)

    @cached_property
    def _rank(self) -> dict[int, int]:
        return {terminal: number for number, terminal in enumerate(self.asked.terminal_order)}

    def _terminals(self, placement: Placement, used: list[int], wrong: list[Reading]) -> Iterator[Way]:
        """Yield every way to place the terminals that are left, after those that are placed on ``used``."""
        if len(used) == len(placement.terminals):
            self.count += 1
            self.is_stopped |= self.count > MOST_WAYS
            if not self.is_stopped:
                yield self._way(placement, used, wrong)
            return
        fitting = dict(self._fitting(placement, used, self.most_wrong - len(wrong)))
        self.is_stopped |= self.steps > MOST_STEPS
        for group in orbits(fitting, used, self._exchanges):
            mark = self._preferred(self.asked.terminal_order[len(used)], group)
            for way in self._terminals(placement, [*used, mark], [*wrong, *fitting[mark]]):
                yield Way(way.marks, way.places, way.times * len(group), way.wrong)
            if self.is_stopped:
                return

    def _fitting(
        self, placement: Placement, used: Sequence[int], most_wrong: int
    ) -> Iterator[tuple[int, list[Reading]]]:
        """Yield each mark that the next terminal can have, with the readings that do not fit."""
        number = len(used)
        domain = placement.terminals[self.asked.terminal_order[number]]
        free = self.wired.difference(used)
        left = len(placement.terminals) - number - 1
        for mark in self.masks.size:
            # Enough terminals must be left for those that have to be used.
            if domain >> mark & 1 and mark not in used and len(free) - (mark in free) <= left:
                self.steps += 1
                wrong = self._wrong(placement, number, mark, used)
                if len(wrong) <= most_wrong:
                    yield mark, wrong

    def _wrong(self, placement: Placement, number: int, mark: int, used: Sequence[int]) -> list[Reading]:
        """The readings to terminals before it that do not fit if a terminal is so marked."""
        terminal = self.asked.terminal_order[number]
        wrong = []
        for question in self.asked.before[number]:
            is_red = question.red == terminal
            other = used[self._rank[question.black if is_red else question.red]]
            fitting = self.masks.fitting(question.found, placement.places[question.position])[is_red]
            if not fitting[other] >> mark & 1:
                wrong.append(question.reading)
                if len(wrong) > self.most_wrong:
                    break
        return wrong

    def _preferred(self, terminal: int, group: Sequence[int]) -> int:
        """Of terminals that are alike the one that has the person's own name for it."""
        name = self.asked.bench.terminals[terminal]
        return next((mark for mark in group if self.view.marks[mark] == name), group[0])

    def _way(self, placement: Placement, used: Sequence[int], wrong: Sequence[Reading]) -> Way:
        marks = [""] * len(used)
        for terminal, mark in zip(self.asked.terminal_order, used, strict=True):
            marks[terminal] = self.view.marks[mark]
        return Way(tuple(marks), placement.places, 1, tuple(wrong))
