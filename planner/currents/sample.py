"""One position of a loom that was solved, and what is asked of it."""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.grid import Grid
from planner.currents.positions import Positions
from planner.currents.solver import Point
from planner.currents.sums import Row, Scope
from planner.currents.tracing import Flow

NO_AMPS = 1e-12  # less is lack of digits


@dataclass(frozen=True)
class Sample:
    """One solved position; branches are told by their index in the grid."""

    assignment: Mapping[int, int]
    position: Mapping[str, str]
    held: int  # levers and buttons that are held against their spring
    grid: Grid
    met: AbstractSet[int]  # the guards of the grid that hold
    point: Point
    rows: Mapping[Scope, Row]  # the setting of each few variables that some load depends on
    full: frozenset[LoadKey]  # the loads that are meant to work fully
    is_generating: bool  # whether a generator is at work

    @property
    def amps(self) -> Sequence[float]:
        """Of every branch, in A; 0 where it is open."""
        return self.point.amps

    @cached_property
    def live(self) -> Sequence[int]:
        """The branches that carry anything."""
        return [index for index, amps in enumerate(self.point.amps) if amps > NO_AMPS or amps < -NO_AMPS]

    @cached_property
    def flow(self) -> Flow:
        """Its currents, ready to be followed."""
        return Flow(self.grid.bare, self.point, self.live)

    def is_closed(self, index: int) -> bool:
        """Whether a branch is there."""
        return self.grid.guard_of[index] in self.met

    def shows_the_same(self, other: "Sample") -> bool:
        """Whether it is another of the same point in every respect, branches numbered alike."""
        return (
            self.point is other.point
            and (self.position, self.assignment) == (other.position, other.assignment)
            and (self.rows, self.full) == (other.rows, other.full)
        )

    def across(self, index: int) -> float:
        """Volts across a branch; 0 where one of its nodes floats."""
        return self.point.across(self.grid.bare[index])


def sample_at(grid: Grid, positions: Positions, assignment: Mapping[int, int], point: Point) -> Sample:
    """What was solved in a position."""
    position, rows = positions.labels(assignment), positions.rows_at(assignment)
    met = grid.met(position)
    return Sample(
        assignment,
        position,
        positions.held(position),
        grid,
        met,
        point,
        rows,
        positions.full_in(rows),
        any(grid.guard_of[index] in met for index in grid.driven),
    )
