"""The worst of every wire, contact, fuse and load, over all positions: which position, how much.

First each load, with as little else as can be, in every setting that it knows: that shows which way its
current takes. From that follows for each branch which loads can meet in it, and ``heaviest`` finds the
position in which they take most; for each load the position in which the others pull its voltage down most.
Those positions are solved too. Every number is that of a solved operating point of the whole loom.
"""

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial

from planner.circuit.fitted import LoadKey
from planner.currents.bundled import fullest
from planner.currents.earlier import Earlier
from planner.currents.found import Answer
from planner.currents.grid import Grid
from planner.currents.meetings import Meetings
from planner.currents.positions import LEAST_AMPS, Positions
from planner.currents.sample import Moved, Sample
from planner.currents.seek import Seek, Wanted
from planner.currents.shared_ohms import Ohms
from planner.currents.solver import Point, solve_closed
from planner.currents.sums import Row
from planner.currents.surveyed import Survey
from planner.currents.tied import ties

MANY_POINTS, SOME_POINTS = 50, 2  # from here on it pays to import numpy, and to use it once it is there


def survey(grid: Grid, positions: Positions, like: Survey | None = None, *, thorough: bool = True) -> Survey:
    """Look at a loom electrically; what holds as in a survey of a loom much like it is taken from there.

    Not ``thorough``: the least volts are looked for at relays only.
    """
    return _Surveyor(grid, positions, like).survey(thorough)


def solve_points(grid: Grid, mets: Sequence[bytes], near: Sequence[Point | None]) -> list[Point]:
    """Solve a grid where some guards or others hold, all together where there are many.

    ``near`` are points of a loom much like it, to begin from.
    """
    if len(mets) < (SOME_POINTS if "numpy" in sys.modules else MANY_POINTS):
        return [solve_closed(grid.bare, grid.closed_by(met), grid.zero) for met in mets]
    from planner.currents.batch import solve_all, spread  # noqa: PLC0415 - numpy is slow to import

    return solve_all(grid.bare, spread(mets, grid.guard_of), grid.zero, near)


class _Surveyor:
    """A survey under way."""

    def __init__(self, grid: Grid, positions: Positions, like: Survey | None) -> None:
        self.grid, self.positions, self.like = grid, positions, like
        self.solved = 0
        self.earlier = Earlier(like.grid, like.samples, grid, positions) if like else None
        self.meetings = Meetings(positions, grid.bare, like.meetings if like else None)
        self.seek = Seek(positions)
        self.samples: dict[Moved, Sample] = {}
        self.known: dict[Moved, Sample] = {}  # of the earlier survey too, where they still hold
        self.stale: dict[Moved, tuple[Mapping[int, int], bytes, Point | None]] = {}  # where they do not
        for moved, old in self.earlier.samples.items() if self.earlier else ():
            if self.earlier and self.earlier.holds(old.point, old.met) is old.point:
                self.known[moved] = old
            else:  # solved with the first that are: nearly all of them are asked for again
                self.stale[moved] = (old.assignment, old.met, old.point)
        self.followed: dict[LoadKey, list[Sample]] = {}
        numbers = positions.view.variable_number
        guards = {
            variable for gated in grid.branches if gated.kind == "source" for variable, _ in gated.guard
        }
        self.drivers = sorted(numbers[name] for name in guards)  # what decides whether a generator gives
        self.answers = positions.alike.answers.setdefault((positions.kind, *self.drivers), {})

    def survey(self, thorough: bool) -> Survey:
        """Solve what has to be solved, and take the extremes."""
        self._look_at_each()
        self._solve([*self._crowds(), *self._bundles(), *self._drags(thorough), *self._ties()])
        samples = tuple(self.samples.values())
        like = self.like if self.earlier and self.earlier.samples else None
        return Survey(self.grid, self.positions, samples, self.followed, self.meetings, self.solved, like)

    def _driven(self) -> Iterator[dict[int, int]]:
        """Yield the states of what drives generators: all at rest, then each at work on its own."""
        yield dict.fromkeys(self.drivers, 0)
        for driver in self.drivers:
            for value in range(1, self.positions.sizes[driver]):
                yield dict.fromkeys(self.drivers, 0) | {driver: value}

    def _asked(self, question: object, search: Callable[[], Iterable[Answer]]) -> Sequence[Answer]:
        """The answer to a question, searched for once for all looms whose loads behave alike."""
        known = self.answers.get(question)
        if known is None:
            known = self.answers[question] = tuple(search())
        return known

    def _solve(self, assignments: Iterable[Answer]) -> None:
        """Solve positions, each once and all together."""
        wanted = {
            tuple(assignment.items()): assignment for assignment in assignments if assignment is not None
        }
        new, self.stale = self.stale, {}
        for moved, assignment in wanted.items():
            if moved not in self.known and moved not in new:
                position = self.positions.labels(assignment)
                met = self.grid.met(position)
                near = self.earlier.near(position) if self.earlier else None
                point = self.earlier.holds(near, met) if self.earlier and near else None
                if point is None:
                    new[moved] = (assignment, met, near)
                else:
                    self.known[moved] = Sample(self.grid, self.positions, assignment, met, point)
        points = solve_points(
            self.grid, [met for _, met, _ in new.values()], [near for *_, near in new.values()]
        )
        for (moved, (assignment, met, _)), point in zip(new.items(), points, strict=True):
            self.known[moved] = Sample(self.grid, self.positions, assignment, met, point)
        self.solved += len(new)
        self.samples |= {moved: self.known[moved] for moved in wanted}

    def _look_at_each(self) -> None:
        """Solve rest and each load in each of its settings, and note which way its current takes there."""
        stopped, *driven = self._driven()
        (rest,) = self._asked("rest", lambda: (self.seek.heaviest({}, stopped),))
        alone = []
        more: list[Answer] = []
        for key, table in self.positions.loads.items():
            most = max(table.rows.values(), default=0.0)
            for row, amps in table.rows.items():
                if amps < LEAST_AMPS:
                    continue
                held = [stopped, *(driven if amps == most else ())]
                own, *others = self._asked(("alone", key, row), partial(self._alone, key, row, held))
                more += others
                if own is not None:
                    alone.append((key, row, own))
        self._solve([rest, *(own for _, _, own in alone), *more])
        for key, row, own in alone:
            index, sample = self.grid.loads.get(key, -1), self.samples[tuple(own.items())]
            if index >= 0 and sample.is_closed(index):
                self.followed.setdefault(key, []).append(sample)
                self.meetings.follow(key, row, sample.flow, index)

    def _alone(self, key: LoadKey, row: Row, held: Iterable[Mapping[int, int]]) -> Iterator[Answer]:
        """Yield where a load is on its own in one row of its table, as what drives generators is held."""
        for each in held:
            yield self.seek.alone(key, row, each)

    def _crowds(self) -> Iterator[Answer]:
        """Yield where the loads that meet in a branch take most, also with no lever held."""
        for number in self.meetings.crowded():
            yield from self._asked(self.meetings.name_of(number), partial(self._crowd, number))

    def _crowd(self, number: int) -> Iterator[Answer]:
        wanted = self.meetings.crowd(number)
        for held in self._driven():
            found = self.seek.heaviest(wanted, held, quiet=True)
            yield found
            if found is not None and self.positions.held(found):
                yield self.seek.heaviest(wanted, held, quiet=True, lasting=True)

    def _bundles(self) -> Iterator[Answer]:
        """Yield where the wires of each bundle carry most together, for good."""
        for branches in self.grid.bundles:
            numbers = self.meetings.met_in(branches)
            name = ("bundle", *map(self.meetings.name_of, numbers))
            yield from self._asked(name, partial(self._bundle, numbers))

    def _bundle(self, numbers: Sequence[int]) -> Iterator[Answer]:
        for wanted in fullest(self.meetings, numbers):
            for held in self._driven():
                yield self.seek.heaviest(wanted, held, quiet=True, lasting=True)

    def _drags(self, thorough: bool) -> Iterator[Answer]:
        """Yield where the others drag a load's volts down most, and where least."""
        loads = self.positions.view.net.loads
        for key, rows, ohms in self.meetings.drags():
            if thorough or loads[key].kind == "coil":
                yield from self._asked(("drag", key, rows, ohms), partial(self._drag, key, rows, ohms))

    def _drag(self, key: LoadKey, rows: tuple[Row, ...], ohms: Ohms) -> Iterator[Answer]:
        near, far = self.meetings.dragged(key, rows, ohms)
        stopped, *driven = self._driven()
        lasting = self.seek.heaviest(near, stopped, far, lasting=True)
        yield lasting or self.seek.heaviest(near, stopped, far)
        *_, at_work = stopped, *driven  # a generator at work gives most volts
        yield self.seek.heaviest(self.meetings.relieved(key, rows, ohms), at_work)

    def _ties(self) -> Iterator[Answer]:
        """Yield where sources are tied to one another, whatever else is on; generators at rest."""
        stopped = dict.fromkeys(self.drivers, 0)
        for sums in ties(self.grid, self.positions):
            name = ("tie", *((scope, tuple(own)) for scope, own in sums.items()))
            parts = {self.positions.parts.of_variable(variable) for scope in sums for variable in scope}
            wanted: Wanted = {tuple(sorted(parts)): (name, partial(dict, sums))}
            yield self.seek.heaviest(wanted, stopped, quiet=True)
