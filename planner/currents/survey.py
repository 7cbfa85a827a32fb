"""The worst of every wire, contact, fuse and load, over all positions: which position, how much.

First each load, with as little else as can be, in every setting that it knows: that shows which way its
current takes. From that follows for each branch which loads can meet in it, and ``heaviest`` finds the
position in which they take most; for each load the position in which the others pull its voltage down most.
Those positions are solved too. Every number is that of a solved operating point of the whole loom.
"""

import sys
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.earlier import Earlier
from planner.currents.found import Answer
from planner.currents.grid import Grid, Position
from planner.currents.meetings import Meetings
from planner.currents.positions import Positions
from planner.currents.questions import Questions
from planner.currents.sample import Moved, Sample
from planner.currents.solver import Point, solve_closed
from planner.currents.surveyed import Survey

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
        self.questions = Questions(grid, positions, self.meetings)
        self.samples: dict[Moved, Sample] = {}
        self.known: dict[Moved, Sample] = {}  # of the earlier survey too, where they still hold
        self.stale: dict[Moved, Sample] = {}  # where they do not
        for moved, old in self.earlier.samples.items() if self.earlier else ():
            if self.earlier and self.earlier.holds(old.point, old.met) is old.point:
                self.known[moved] = old
            else:  # solved with the first that are: nearly all of them are asked for again
                self.stale[moved] = old
        self.followed: dict[LoadKey, list[Sample]] = {}

    def survey(self, thorough: bool) -> Survey:
        """Solve what has to be solved, and take the extremes."""
        self._look_at_each()
        asked = self.questions
        self._solve([*asked.crowds(), *asked.bundles(), *asked.drags(thorough=thorough), *asked.ties()])
        samples = tuple(self.samples.values())
        like = self.like if self.earlier and self.earlier.samples else None
        return Survey(self.grid, self.positions, samples, self.followed, self.meetings, self.solved, like)

    def _solve(self, assignments: Iterable[Answer]) -> None:
        """Solve positions, each once and all together."""
        each = {id(assignment): assignment for assignment in assignments if assignment is not None}
        wanted = {tuple(assignment.items()): assignment for assignment in each.values()}
        stale, self.stale = self.stale, {}
        new: dict[Moved, tuple[Mapping[int, int], bytes, Point | None]] = {
            moved: (old.assignment, old.met, old.point) for moved, old in stale.items()
        }
        for moved, assignment in wanted.items():
            if moved not in self.known and moved not in new:
                met = self.grid.met_where(self.positions.moved(assignment), *self._rest)
                near = self.earlier.near(self.positions.labels(assignment)) if self.earlier else None
                point = self.earlier.holds(near, met) if self.earlier and near else None
                if point is None:
                    new[moved] = (assignment, met, near)
                else:
                    self.known[moved] = Sample(self.grid, self.positions, assignment, met, point)
        points = solve_points(
            self.grid, [met for _, met, _ in new.values()], [near for *_, near in new.values()]
        )
        for (moved, (assignment, met, _)), point in zip(new.items(), points, strict=True):
            flow = stale[moved].followed if moved in stale else None
            self.known[moved] = Sample(self.grid, self.positions, assignment, met, point, flow)
        self.solved += len(new)
        self.samples |= {moved: self.known[moved] for moved in wanted}

    @cached_property
    def _rest(self) -> tuple[Position, bytes]:
        """All at rest, and the guards that hold there."""
        position = self.positions.labels({})
        return position, self.grid.met(position)

    def _look_at_each(self) -> None:
        """Solve rest and each load in each of its settings, and note which way its current takes there."""
        alone = list(self.questions.alone())
        first = [(key, row, own) for key, row, (own, *_) in alone if own is not None]
        driven = [answer for _, _, (_, *more) in alone for answer in more]
        self._solve([self.questions.rest(), *(own for _, _, own in first), *driven])
        for key, row, own in first:
            index, sample = self.grid.loads.get(key, -1), self.samples[tuple(own.items())]
            if index >= 0 and sample.is_closed(index):
                self.followed.setdefault(key, []).append(sample)
                self.meetings.follow(key, row, sample.flow, index)
