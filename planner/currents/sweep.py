"""One variable after another maximised away, for any numbers: what meets when is worked out once.

At the end the notes on the best values are read backwards. A step has some ten numbers, so what it costs is
not these: built-in functions, or looking a step up by what goes into it, were slower than the loop. What
helps is that a step whose numbers are those of the last search is left out.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from operator import add

from planner.currents.sums import IMPOSSIBLE, Row, Scope, Sizes, Sums, Table, every_row

EQUAL = 1e-12  # what numbers may differ by for lack of digits


@dataclass(frozen=True, slots=True)
class _Columns:
    """Settings of some variables and where their numbers stand: of each summand, at which place."""

    scope: Scope
    rows: Sequence[Row]
    picks: tuple[tuple[int, Sequence[int]], ...]  # summand, and a place in it for each row


@dataclass(frozen=True, slots=True)
class Step:
    """One variable maximised away."""

    variable: int
    rest: Scope
    place: Mapping[Row, int]  # of each setting of the rest, among the numbers that it leaves
    values: Sequence[Sequence[int]]  # of the variable, for each such setting
    picks: tuple[tuple[int, Sequence[int]], ...]
    summands: frozenset[int]  # those of its picks


class Sweep:
    """Summands that hang together by their variables, ready for any numbers.

    What follows from numbers that are as they were the last time is not worked out again.
    """

    def __init__(
        self, scopes: Sequence[Scope], laws: Sequence[Table], order: Sequence[int], sizes: Sizes
    ) -> None:
        self.scopes = scopes
        self.steps: list[Step] = []
        self.numbers: list[Sequence[float]] = []  # of the last time, of the summands and then of the steps
        self.notes: list[Sequence[int]] = []
        waiting = []
        for number, scope in enumerate(scopes):
            rows = list(every_row(scope, sizes))
            waiting.append(_Columns(scope, rows, ((number, range(len(rows))),)))
        waiting += [_Columns(law.scope, list(law.rows), ()) for law in laws]
        for number, variable in enumerate(order, len(scopes)):
            joined = _join([columns for columns in waiting if variable in columns.scope])
            step = _step(joined, variable)
            self.steps.append(step)
            left = _Columns(step.rest, list(step.place), ((number, range(len(step.place))),))
            waiting = [columns for columns in waiting if variable not in columns.scope]
            waiting.append(left)
        # What has lost all its variables is a number of its own; every one must be possible.
        self.totals = [number for columns in waiting for number, _ in columns.picks]

    def heaviest(self, sums: Sums) -> dict[int, int] | None:
        """The setting with the greatest sum."""
        self._update([sums[scope] for scope in self.scopes])
        numbers = self.numbers
        if any(not numbers[at] or numbers[at][0] == IMPOSSIBLE for at in self.totals):
            return None
        found: dict[int, int] = {}
        for step, note in zip(reversed(self.steps), reversed(self.notes), strict=True):
            found[step.variable] = note[step.place[tuple([found[v] for v in step.rest])]]
        return found

    def _update(self, summands: Sequence[Sequence[float]]) -> None:
        """Maximise every variable away, where the numbers are others than the last time."""
        numbers, notes = self.numbers, self.notes
        is_first = not notes
        if is_first:
            numbers[:] = [()] * (len(summands) + len(self.steps))
            notes[:] = [()] * len(self.steps)
        others = {at for at, own in enumerate(summands) if own != numbers[at]}
        numbers[: len(summands)] = summands
        for at, step in enumerate(self.steps):
            if others.isdisjoint(step.summands) and not is_first:
                continue
            total: Iterable[float] = () if step.picks else iter(lambda: 0.0, None)
            for n, (summand, places) in enumerate(step.picks):
                picked = map(numbers[summand].__getitem__, places)
                total = map(add, total, picked) if n else picked
            best, notes[at] = _greatest(total, step.values)
            if best != numbers[len(summands) + at]:
                numbers[len(summands) + at] = best
                others.add(len(summands) + at)


def _greatest(numbers: Iterable[float], values: Sequence[Sequence[int]]) -> tuple[list[float], list[int]]:
    """The greatest of each group of numbers, and the first value that has it."""
    take: Callable[[], float] = iter(numbers).__next__
    best, note = [], []
    for group in values:
        top, choice = IMPOSSIBLE, group[0]
        for value in group:
            number = take()
            if number > top + EQUAL:
                top, choice = number, value
        best.append(top)
        note.append(choice)
    return best, note


def _join(own: Sequence[_Columns]) -> _Columns:
    """The settings that all of some columns allow, each with the places of its numbers."""
    first, *others = sorted(own, key=lambda columns: len(columns.rows))
    for other in others:
        shared = [v for v in first.scope if v in other.scope]
        new = [v for v in other.scope if v not in first.scope]
        at = [other.scope.index(v) for v in shared]
        rest = [other.scope.index(v) for v in new]
        by_shared: dict[Row, list[int]] = {}
        for number, row in enumerate(other.rows):
            by_shared.setdefault(tuple(row[i] for i in at), []).append(number)
        here = [first.scope.index(v) for v in shared]
        pairs = [
            (one, two)
            for one, row in enumerate(first.rows)
            for two in by_shared.get(tuple(row[i] for i in here), ())
        ]
        first = _Columns(
            first.scope + tuple(new),
            [first.rows[one] + tuple(other.rows[two][i] for i in rest) for one, two in pairs],
            (
                *((summand, [places[one] for one, _ in pairs]) for summand, places in first.picks),
                *((summand, [places[two] for _, two in pairs]) for summand, places in other.picks),
            ),
        )
    return first


def _step(joined: _Columns, variable: int) -> Step:
    """A variable maximised away from joined columns, its lower values first."""
    at = joined.scope.index(variable)
    split = [(row[:at] + row[at + 1 :], row[at], number) for number, row in enumerate(joined.rows)]
    split.sort()
    place: dict[Row, int] = {}
    values: list[list[int]] = []
    for others, value, _ in split:
        if others not in place:
            place[others] = len(values)
            values.append([])
        values[-1].append(value)
    return Step(
        variable,
        joined.scope[:at] + joined.scope[at + 1 :],
        place,
        values,
        tuple((summand, [places[number] for *_, number in split]) for summand, places in joined.picks),
        frozenset(summand for summand, _ in joined.picks),
    )
