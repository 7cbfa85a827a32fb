"""What every check looks at: the survey, the loom, and the published limits."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from planner.circuit.fitted import FittedPart, LoadKey
from planner.currents.solver import Branch
from planner.currents.survey import FULL_SHARE, Sample, Survey
from planner.currents.tracing import Flow
from planner.model.catalogue import Catalogue
from planner.model.elements import AnyElement
from planner.model.loom import Loom
from planner.model.part import Part
from planner.model.standards import Standards

LEAST_SHARE = 0.1  # of a branch's current: a load that has less of it is not named


@dataclass(frozen=True)
class Peak:
    """The most current in a branch, and whether it lasts."""

    amps: float
    sample: Sample
    momentary: bool


@dataclass(frozen=True)
class Inspection:
    """One loom under inspection."""

    survey: Survey
    loom: Loom
    catalogue: Catalogue
    standards: Standards

    def springs_moved(self, sample: Sample) -> int:
        """How many levers and buttons that spring back are held in a position."""
        variables = self.survey.positions.view.net.variables.items()
        return sum(
            sample.position[name] in variable.sprung for name, variable in variables if variable.sprung
        )

    def is_momentary(self, sample: Sample) -> bool:
        """Whether a position lasts only as long as somebody holds a lever or button."""
        return self.springs_moved(sample) > 0

    def lasting(self, samples: Sequence[Sample]) -> list[Sample]:
        """The samples in which least is held for a moment: nothing, unless a load only works then."""
        held = min(map(self.springs_moved, samples), default=0)
        return [sample for sample in samples if self.springs_moved(sample) == held]

    def is_generating(self, sample: Sample) -> bool:
        """Whether a generator is at work."""
        grid = self.survey.grid
        return any(grid.branches[i].kind == "source" and grid.branches[i].guard for i in sample.closed)

    def volts_at_work(self, key: LoadKey, index: int, *, engine: bool) -> Iterator[tuple[float, Sample]]:
        """Yield volts across a load in every sample in which it is meant to work fully.

        They are negative where its second terminal is the more positive one. Not while others are held for
        a moment, unless it only works then. ``engine``: with a generator at work as well.
        """
        table = self.survey.positions.loads[key]
        full = FULL_SHARE * max(table.rows.values(), default=0.0)
        if full <= 0.0:
            return
        found = [
            sample
            for sample in self.survey.samples
            if table.rows[self.survey.positions.row_of(key, sample.assignment)] >= full
            and (engine or not self.is_generating(sample))
        ]
        for sample in self.lasting(found):
            yield sample.point.across(self.branch(index)), sample

    def part_of(self, place: str) -> Part:
        """The part at a place."""
        return self.catalogue.parts[self.loom.places[place].part]

    def told(self, sample: Sample) -> dict[str, str]:
        """A position by what is not at rest, hidden things left out unless nothing else tells."""
        net = self.survey.positions.view.net
        moved = {n: v for n, v in sample.position.items() if v != net.variables[n].values[0]}
        seen = {n: v for n, v in moved.items() if n in net.controls}
        return seen or moved

    @cached_property
    def rest_sample(self) -> Sample:
        """The loom with everything at rest."""
        return self.survey.samples[0]

    @cached_property
    def peaks(self) -> Mapping[int, Peak]:
        """For each branch the most that lasts, or what is held for a moment where nothing lasts."""
        lasting: dict[int, Peak] = {}
        held: dict[int, Peak] = {}
        for sample in self.survey.samples:
            momentary = self.is_momentary(sample)
            into = held if momentary else lasting
            for index, amps in zip(sample.closed, sample.point.amps, strict=True):
                if index not in into or abs(amps) > into[index].amps + 1e-9:
                    into[index] = Peak(abs(amps), sample, momentary)
        quiet = {index for index, peak in lasting.items() if peak.amps < 1e-6}
        return {i: held[i] for i in sorted(held) if i not in lasting or i in quiet} | {
            i: peak for i, peak in sorted(lasting.items()) if i not in quiet
        }

    @cached_property
    def _flows(self) -> dict[int, Flow]:
        return {}

    def flow(self, sample: Sample) -> Flow:
        """The currents of a sample, ready to be followed."""
        found = self._flows.get(id(sample))
        if found is None:
            branches = [self.survey.grid.branches[i].branch for i in sample.closed]
            found = self._flows[id(sample)] = Flow(branches, sample.point)
        return found

    def way_to(self, index: int, sample: Sample) -> list[int]:
        """The branches from the live pole to a load, in that order, along the largest share of its current.

        With the positive pole earthed the current of a load comes from earth and leaves by the live pole.
        """
        flow, here = self.flow(sample), sample.closed.index(index)
        way = flow.before(here) if self.loom.supply.live_volts > 0 else flow.after(here)[::-1]
        return [sample.closed[at] for at in way]

    def path(self, index: int, sample: Sample) -> tuple[str, ...]:
        """The nodes from the live pole to earth by way of a load, along the largest share of its current."""
        path = self.flow(sample).path(sample.closed.index(index))
        return path if self.loom.supply.live_volts > 0 else path[::-1]

    def loads_in(self, index: int, sample: Sample) -> tuple[LoadKey, ...]:
        """The loads whose current it is that flows in a branch, the largest first."""
        grid = self.survey.grid
        flow = self.flow(sample)
        here = sample.closed.index(index)
        total = abs(sample.point.amps[here])
        found = []
        for key, load in grid.loads.items():
            if load not in sample.closed:
                continue
            at = sample.closed.index(load)
            amps = abs(sample.point.amps[at])
            if amps < LEAST_SHARE * total:
                continue
            part = flow.shares(at).get(here, 0.0) * amps
            info = self.survey.positions.view.net.loads.get(key)
            if part > LEAST_SHARE * total and info is not None and info.kind != "diode":
                found.append((-part, key))
        return tuple(key for _, key in sorted(found))

    def branch(self, index: int) -> Branch:
        """A branch of the grid."""
        return self.survey.grid.branches[index].branch

    def element(self, index: int) -> AnyElement:
        """What a branch is in its part, for branches that are inside one."""
        name = self.branch(index).name
        part = self.part_of(name[1])
        if name[0] == "load":
            keys = FittedPart(name[1], part).load_keys
            return part.inside[next(i for i, key in keys.items() if key == name[1:])]
        return part.inside[int(name[2])]

    def of_kind(self, kind: str) -> Iterator[tuple[int, Branch]]:
        """Yield the branches of one kind with their index."""
        for index, gated in enumerate(self.survey.grid.branches):
            if gated.kind == kind:
                yield index, gated.branch
