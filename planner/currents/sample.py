"""One position of a loom that was solved, and what is asked of it."""

from array import array
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.amps import Amps
from planner.currents.grid import Grid
from planner.currents.positions import Positions
from planner.currents.solver import Point
from planner.currents.sums import Row
from planner.currents.tracing import Flow

Moved = tuple[tuple[int, int], ...]  # what is not at rest in a position: it tells the position


@dataclass(frozen=True, eq=False)
class Sample:
    """One solved position; branches are told by their index in the grid. No sample equals another."""

    grid: Grid
    positions: Positions
    assignment: Mapping[int, int]  # of what is not at rest
    met: bytes  # which guards of the grid hold
    point: Point
    like: Flow | None = field(default=None, repr=False)  # of the same position in a loom numbered alike

    @cached_property
    def moved(self) -> Moved:
        """What is not at rest: it tells the position."""
        return tuple(self.assignment.items())

    @cached_property
    def amps(self) -> Amps:
        """Of every branch, in A; 0 where it is open."""
        return Amps.of(self.point.amps)

    @property
    def live(self) -> Sequence[int]:
        """The branches that carry anything."""
        return self.amps.live

    @cached_property
    def sizes(self) -> Sequence[float]:
        """What those carry, in A, without sign."""
        return array("d", map(abs, self.amps.own))

    @cached_property
    def live_loads(self) -> Sequence[tuple[LoadKey, int, float]]:
        """The loads that carry anything, each with its branch and its amps, without sign."""
        loads, amps = self.grid.load_at, self.amps.by_branch
        return [(loads[index], index, abs(amps[index])) for index in sorted(loads.keys() & self.live)]

    @cached_property
    def flow(self) -> Flow:
        """Its currents, ready to be followed."""
        return Flow(self.grid.bare, self.point, self.grid.ends, self.like)

    @property
    def followed(self) -> Flow | None:
        """The same, if anybody followed them."""
        return self.__dict__.get("flow")

    @cached_property
    def told(self) -> Mapping[str, str]:
        """What is not at rest, hidden things left out unless nothing else tells."""
        moved, controls = self.positions.moved(self.assignment), self.positions.controls
        return {n: v for n, v in moved.items() if n in controls} or moved

    @cached_property
    def at_work(self) -> frozenset[LoadKey]:
        """The loads that are meant to work fully."""
        return self.positions.full_at(self.assignment)

    @cached_property
    def volts_at_work(self) -> Mapping[LoadKey, float]:
        """Volts across each of those loads."""
        loads, bare, across = self.grid.loads, self.grid.bare, self.point.across
        return {key: across(bare[loads[key]]) for key in self.at_work if key in loads}

    @property
    def position(self) -> Mapping[str, str]:
        """The labels of all variables."""
        return self.positions.labels(self.assignment)

    @cached_property
    def held(self) -> int:
        """How many levers and buttons are held against their spring."""
        return self.positions.held(self.assignment)

    @cached_property
    def is_generating(self) -> bool:
        """Whether a generator is at work."""
        return any(map(self.is_closed, self.grid.driven))

    def is_closed(self, index: int) -> bool:
        """Whether a branch is there."""
        return self.met[self.grid.guard_of[index]] > 0

    def is_full(self, key: LoadKey) -> bool:
        """Whether a load is meant to work fully."""
        return self.positions.is_full(key, self.row_of(key))

    def row_of(self, key: LoadKey) -> Row:
        """The row of a load's table."""
        return self.positions.row_of(key, self.assignment)

    def across(self, index: int) -> float:
        """Volts across a branch; 0 where one of its nodes floats."""
        return self.point.across(self.grid.bare[index])


def changed_among(samples: Sequence[Sample], others: Sequence[Sample]) -> Sequence[int] | None:
    """The numbers of the samples that are not the same among others, which stand one by one for them.

    None if they do not: there are more or fewer, or in one something stands elsewhere, is live or is held.
    """
    if len(samples) != len(others):
        return None
    changed = [number for number, sample in enumerate(samples) if sample is not others[number]]
    for number in changed:
        sample, other = samples[number], others[number]
        if sample.moved != other.moved or sample.held != other.held:
            return None
        if sample.amps.live.tobytes() != other.amps.live.tobytes():
            return None
    return changed
