"""The search for ways: whichever terminal or position has the fewest values left is decided next."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from planner.inquiry.part.asked import Asked, Question
from planner.inquiry.part.bench_view import BenchView
from planner.inquiry.part.levels import Levels
from planner.inquiry.part.masks import Masks, bits, numbers
from planner.inquiry.part.symmetry import Exchange, exchanges, orbits

NOT_READ = -1  # the place of a position without any reading
MOST_STEPS = 10_000  # values tried for one part
Found = tuple[tuple[int, ...], tuple[int, ...], int]  # marks, places, in how many ways that are alike


@dataclass(frozen=True, slots=True)
class _State:
    """What is decided, and what may be: marks of terminals, places (groups of settings) of positions."""

    marks: dict[int, int]
    places: dict[int, int]
    terminals: Levels
    positions: Levels
    wrong: int


class Search:
    """One search on one part; ``is_stopped`` says that it was given up before its end."""

    def __init__(self, view: BenchView, asked: Asked, most_wrong: int) -> None:
        self.view, self.asked, self.most_wrong = view, asked, most_wrong
        self.masks = Masks(view)
        self.is_stopped = False
        self.steps = 0
        terminals = view.part.terminals
        self.wired = bits(n for n, mark in enumerate(view.marks) if terminals[mark].by == "wire")

    def run(self) -> Iterator[Found]:
        """Yield the ways, each by numbers."""
        bench, levels = self.asked.bench, self.most_wrong + 1
        everywhere = [bits(self.masks.size)] * len(bench.terminals)
        domains = [self._domain(number) for number in range(len(bench.positions))]
        yield from self._go_on(_State({}, {}, Levels([everywhere] * levels), Levels([domains] * levels), 0))

    def _go_on(self, state: _State) -> Iterator[Found]:
        slack = self._slack(state)
        if slack < 0 or self.is_stopped:
            return
        thing, values = self._narrowest(state, slack)
        if thing is None:
            yield self._found(state)
        elif thing[0] == "position":
            for place in numbers(values):
                yield from self._go_on(self._placed(state, thing[1], place))
        else:
            used = list(state.marks.values())
            for group in orbits(numbers(values), used, self._exchanges):
                mark = self._preferred(thing[1], group)
                for marks, places, times in self._go_on(self._marked(state, thing[1], mark)):
                    yield marks, places, times * len(group)

    def _slack(self, state: _State) -> int:
        """How many more readings may be wrong than have to be; below 0 if it cannot end well."""
        left = self.most_wrong - state.wrong
        for number in self.asked.by_position:
            if number not in state.places:
                left -= state.positions.least_wrong(number)
        terminals = range(len(self.asked.bench.terminals))
        undecided = [n for n in terminals if n not in state.marks]
        left -= sum(state.terminals.least_wrong(number) for number in undecided)
        unused = (self.wired & ~bits(state.marks.values())).bit_count()
        return left if unused <= len(undecided) else -1

    def _narrowest(self, state: _State, slack: int) -> tuple[tuple[str, int] | None, int]:
        """The undecided terminal or position with the fewest values, those with most readings first."""
        best: tuple[int, int, tuple[str, int], int] | None = None
        for kind, levels, decided, read in (
            ("position", state.positions, state.places, self.asked.by_position),
            ("terminal", state.terminals, state.marks, self.asked.by_terminal),
        ):
            for number, questions in read.items():
                if number not in decided:
                    allowed = min(levels.least_wrong(number) + slack, self.most_wrong)
                    values = levels.by[allowed][number]
                    order = (values.bit_count(), -len(questions), (kind, number), values)
                    best = order if best is None or order < best else best
        return (None, 0) if best is None else (best[2], best[3])

    def _placed(self, state: _State, position: int, place: int) -> _State:
        """A position decided: its readings to terminals that are decided narrow those that are not."""
        self._count()
        wrong = state.wrong + state.positions.wrong(position, place)
        places = {**state.places, position: place}
        terminals, positions = state.terminals.copy(), state.positions
        joints, gaps = self.masks.joints_and_gaps[place]
        for terminal, (joined, parted) in self.asked.met[position].items():
            if terminal not in state.marks:
                enough = (
                    m
                    for m in self.masks.size
                    if joined <= joints[m] + self.most_wrong and parted <= gaps[m] + self.most_wrong
                )
                terminals.keep(terminal, bits(enough))
        for question in self.asked.by_position[position]:
            self._read(question, place, state.marks, terminals)
        if list(places.values()).count(place) == self.view.most_positions(place):
            positions = positions.copy()
            positions.rule_out(place)
        return replace(state, places=places, terminals=terminals, positions=positions, wrong=wrong)

    def _marked(self, state: _State, terminal: int, mark: int) -> _State:
        """A terminal decided: its readings narrow positions, or where these are decided, other terminals."""
        self._count()
        wrong = state.wrong + state.terminals.wrong(terminal, mark)
        marks = {**state.marks, terminal: mark}
        terminals, positions = state.terminals.copy(), state.positions.copy()
        terminals.rule_out(mark)
        for question in self.asked.by_terminal[terminal]:
            if question.position in state.places:
                self._read(question, state.places[question.position], marks, terminals)
            elif question.red in marks and question.black in marks:
                there = self.masks.places(question.found, marks[question.red], marks[question.black])
                positions.read(question.position, there)
        return _State(marks, state.places, terminals, positions, wrong)

    def _read(self, question: Question, place: int, marks: dict[int, int], terminals: Levels) -> None:
        """Narrow the one terminal of a reading in a decided position of which the other is decided."""
        black, red = self.masks.fitting(question.found, place)
        if question.red in marks and question.black not in marks:
            terminals.read(question.black, black[marks[question.red]])
        elif question.black in marks and question.red not in marks:
            terminals.read(question.red, red[marks[question.black]])

    def _domain(self, position: int) -> int:
        """The groups of settings with enough joints and gaps for what was read in a position."""
        bench = self.asked.bench
        met = self.asked.met.get(position, {}).values()
        joined, parted = (sum(counts) for counts in zip(*met, strict=True)) if met else (0, 0)
        powered = bench.positions[position] in bench.powered
        more = 2 * self.most_wrong  # each pair is counted at both its ends
        return bits(
            place
            for place, (joints, gaps) in enumerate(self.masks.joints_and_gaps)
            if self.view.alike[place].is_powered is powered
            and joined <= sum(joints) + more
            and parted <= sum(gaps) + more
        )

    @cached_property
    def _exchanges(self) -> tuple[Exchange, ...]:
        return exchanges(self.view)

    def _preferred(self, terminal: int, group: list[int]) -> int:
        """Of terminals that are alike the one that has the person's own name for it."""
        name = self.asked.bench.terminals[terminal]
        return next((mark for mark in group if self.view.marks[mark] == name), group[0])

    def _count(self) -> None:
        self.steps += 1
        self.is_stopped |= self.steps > MOST_STEPS

    def _found(self, state: _State) -> Found:
        bench = self.asked.bench
        return (
            tuple(state.marks[number] for number in range(len(bench.terminals))),
            tuple(state.places.get(number, NOT_READ) for number in range(len(bench.positions))),
            1,
        )
