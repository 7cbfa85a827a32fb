"""What the electrical view found of one loom: its samples, and the worst among them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.at_work import AtWork
from planner.currents.carried import SAME, Carried
from planner.currents.grid import Grid
from planner.currents.meetings import Meetings
from planner.currents.positions import Positions
from planner.currents.sample import Sample, changed_among


@dataclass(frozen=True, slots=True)
class Extreme:
    """A greatest or least value and where it shows."""

    value: float
    sample: Sample


@dataclass(frozen=True)
class Survey:
    """What the electrical view found of one loom."""

    grid: Grid
    positions: Positions
    samples: Sequence[Sample]
    followed: Mapping[LoadKey, Sequence[Sample]]  # each load in each of its settings, little else on
    meetings: Meetings
    solved: int  # operating points that were not known from an earlier survey
    like: "Survey | None" = None  # the one that it was taken from, if branches and positions mean the same

    @property
    def worst_residual_amps(self) -> float:
        """The most that Kirchhoff's current law is missed by at any node in any sample."""
        return max((sample.point.residual_amps for sample in self.samples), default=0.0)

    @cached_property
    def alone(self) -> Mapping[LoadKey, Sequence[Sample]]:
        """Each load working fully with as little else as can be."""
        full = {key: [s for s in samples if s.is_full(key)] for key, samples in self.followed.items()}
        return {key: samples for key, samples in full.items() if samples}

    @cached_property
    def carried(self) -> Carried:
        """In which samples each branch carries anything, and the most of it."""
        if self.like is None or self.changed is None:
            return Carried(self.samples)
        return Carried(self.samples, self.like.carried, self.changed)

    @cached_property
    def at_work(self) -> AtWork:
        """In which samples each load is meant to work fully, and with how many volts."""
        if self.like is None or self.changed is None:
            return AtWork(self.samples)
        return AtWork(self.samples, self.like.at_work, self.changed)

    @cached_property
    def changed(self) -> Sequence[int] | None:
        """Which samples are not those of the survey that is ``like`` it.

        None if there is none, or if its samples do not stand one by one for these.
        """
        return changed_among(self.samples, self.like.samples) if self.like else None

    @cached_property
    def least_volts(self) -> Mapping[LoadKey, Extreme]:
        """The least volts at each load, where it is meant to work fully."""
        return dict(self._volts(-1.0))

    @cached_property
    def most_volts(self) -> Mapping[LoadKey, Extreme]:
        """The most volts at each load, where it is meant to work fully."""
        return dict(self._volts(1.0))

    def _volts(self, sign: float) -> Iterator[tuple[LoadKey, Extreme]]:
        for key in self.positions.loads:
            index = self.grid.loads.get(key)
            if index is None:
                continue
            best: Extreme | None = None
            for sample in self.at_work.at(key):
                volts = abs(sample.across(index))
                if best is None or sign * volts > sign * best.value + SAME:
                    best = Extreme(volts, sample)
            if best is not None:
                yield key, best
