"""The worst of every wire, contact, fuse and load, over all positions: which position, how much.

First each load on its own in every setting that it knows (the *plain* samples); they show which way its
current takes. From that follows for each branch which loads can meet in it, and ``heaviest`` finds the
position in which they take most; for each load the position in which the others pull its voltage down most.
Those positions are solved too. Every number is that of a solved operating point of the whole loom.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.grid import Grid
from planner.currents.heaviest import Row, Table
from planner.currents.laws import Resistance
from planner.currents.positions import Positions
from planner.currents.solver import Branch, Point, solve
from planner.currents.tracing import Flow

FULL_SHARE = 0.9  # of its greatest current with ideal joints: from there on a load is meant to work fully


@dataclass(frozen=True)
class Sample:
    """One solved position."""

    assignment: Mapping[int, int]
    position: Mapping[str, str]
    held: int  # levers and buttons that are held against their spring
    branches: Sequence[Branch]  # of the whole grid
    amps: Mapping[int, float]  # by branch; those that are open are not named
    point: Point

    @cached_property
    def flow(self) -> Flow:
        """Its currents, ready to be followed."""
        return Flow(self.branches, self.amps, self.point.volts)

    def across(self, index: int) -> float:
        """Volts across a branch; 0 where one of its nodes floats."""
        return self.point.across(self.branches[index])


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
    alone: Mapping[LoadKey, Sequence[Sample]]  # each load working fully with as little else as can be
    most_amps: Mapping[int, Extreme]  # by branch
    least_volts: Mapping[LoadKey, Extreme]  # where the load is meant to work fully
    most_volts: Mapping[LoadKey, Extreme]
    worst_residual_amps: float


def survey(grid: Grid, positions: Positions) -> Survey:
    """Look at a loom electrically."""
    return _Surveyor(grid, positions).survey()


@dataclass
class _Met:
    """What meets in a branch: amps by load and row."""

    rows: dict[LoadKey, dict[Row, float]] = field(default_factory=dict)


class _Surveyor:
    """A survey under way."""

    def __init__(self, grid: Grid, positions: Positions) -> None:
        self.grid, self.positions = grid, positions
        self.branches = [gated.branch for gated in grid.branches]
        self.samples: dict[tuple[int, ...], Sample] = {}
        self.met: dict[int, _Met] = {}
        self.alone: dict[LoadKey, list[Sample]] = {}
        self.ways: dict[LoadKey, dict[Row, dict[int, float]]] = {}
        numbers = positions.view.variable_number
        guards = {
            variable for gated in grid.branches if gated.kind == "source" for variable, _ in gated.guard
        }
        self.drivers = sorted(numbers[name] for name in guards)  # what decides whether a generator gives

    def survey(self) -> Survey:
        """Solve what has to be solved, and take the extremes."""
        self._sample(self.positions.heaviest([]))  # everything at rest comes first
        self._plain()
        lasting = self.positions.lasting
        for tables in self._meetings():
            for held in self._driven():
                self._sample(self.positions.heaviest(tables, held))
                self._sample(self.positions.heaviest([*tables, *lasting], held))
        for tables in self._drags():
            stopped = dict.fromkeys(self.drivers, 0)
            found = self.positions.heaviest([*tables, *lasting], stopped)
            self._sample(found or self.positions.heaviest(tables, stopped))
        samples = tuple(self.samples.values())
        return Survey(
            self.grid,
            self.positions,
            samples,
            self.alone,
            dict(self._most_amps(samples)),
            dict(self._volts(samples, -1.0)),
            dict(self._volts(samples, 1.0)),
            max((sample.point.residual_amps for sample in samples), default=0.0),
        )

    def _driven(self) -> Iterator[dict[int, int]]:
        """Yield the states of what drives generators: all at rest, then each at work on its own."""
        yield dict.fromkeys(self.drivers, 0)
        for driver in self.drivers:
            for value in range(1, self.positions.sizes[driver]):
                yield dict.fromkeys(self.drivers, 0) | {driver: value}

    def _sample(self, assignment: Mapping[int, int] | None) -> Sample | None:
        """Solve a position, once."""
        if assignment is None:
            return None
        key = tuple(assignment[v] for v in sorted(assignment))
        found = self.samples.get(key)
        if found is None:
            position = self.positions.labels(assignment)
            closed = self.grid.closed(position)
            point = solve([self.branches[i] for i in closed], self.grid.zero)
            amps = dict(zip(closed, point.amps, strict=True))
            held = self.positions.held(position)
            found = Sample(assignment, position, held, self.branches, amps, point)
            self.samples[key] = found
        return found

    def _plain(self) -> None:
        """Every load in each of its settings; which way its current takes there."""
        for key in self.positions.loads:
            index = self.grid.loads.get(key)
            if index is None:
                continue
            table = self.positions.loads[key]
            full = FULL_SHARE * max(table.rows.values(), default=0.0)
            for row, assignment in self.positions.settings(key):
                sample = self._sample(assignment)
                if sample is None or index not in sample.amps:
                    continue
                if table.rows[row] >= full:
                    self.alone.setdefault(key, []).append(sample)
                amps = abs(sample.amps[index])
                way = self.ways.setdefault(key, {})[row] = sample.flow.shares(index)
                for branch, share in way.items():
                    rows = self.met.setdefault(branch, _Met()).rows.setdefault(key, {})
                    rows[row] = max(rows.get(row, 0.0), amps * share)
                for held in list(self._driven())[1:]:
                    self._sample(self.positions.heaviest([Table(table.scope, {row: 0.0})], held))

    def _meetings(self) -> Iterator[list[Table]]:
        """Yield for each branch what is to be greatest; branches in series ask the same once."""
        seen = set()
        for met in self.met.values():
            if len(met.rows) < 2:
                continue  # seen already, with its one load on its own
            identity = tuple(
                (key, tuple(sorted((row, round(amps, 3)) for row, amps in rows.items())))
                for key, rows in sorted(met.rows.items())
            )
            if identity not in seen:
                seen.add(identity)
                yield [self._table(key, rows) for key, rows in met.rows.items()]

    def _table(self, key: LoadKey, rows: Mapping[Row, float]) -> Table:
        """A load's summand: nothing in the settings not named."""
        load = self.positions.loads[key]
        return Table(load.scope, {row: rows.get(row, 0.0) for row in load.rows})

    def _drags(self) -> Iterator[list[Table]]:
        """Yield for each load, on its ways, how much the others pull its voltage down, in V."""
        seen = set()
        for key, ways in self.ways.items():
            table = self.positions.loads[key]
            full = FULL_SHARE * max(table.rows.values(), default=0.0)
            for row, way in ways.items():
                identity = tuple(sorted((b, round(s, 2)) for b, s in way.items()))
                if table.rows[row] < full or identity in seen:
                    continue
                seen.add(identity)
                yield [Table(table.scope, {row: 0.0}), *self._pulls(key, way)]

    def _pulls(self, key: LoadKey, way: Mapping[int, float]) -> Iterator[Table]:
        drops: dict[LoadKey, dict[Row, float]] = {}
        for branch, share in way.items():
            law = self.grid.branches[branch].branch.law
            if not isinstance(law, Resistance) or self.grid.branches[branch].kind == "load":
                continue
            for other, rows in self.met[branch].rows.items():
                if other != key:
                    into = drops.setdefault(other, {})
                    for row, amps in rows.items():
                        into[row] = into.get(row, 0.0) + share * law.ohms * amps
        for other, rows in drops.items():
            yield self._table(other, rows)

    def _most_amps(self, samples: Sequence[Sample]) -> Iterator[tuple[int, Extreme]]:
        most: dict[int, Extreme] = {}
        for sample in samples:
            for index, amps in sample.amps.items():
                if index not in most or abs(amps) > most[index].value + 1e-9:
                    most[index] = Extreme(abs(amps), sample)
        yield from sorted(most.items())

    def _volts(self, samples: Sequence[Sample], sign: float) -> Iterator[tuple[LoadKey, Extreme]]:
        """The least (sign -1) or greatest volts at each load, where it is meant to work fully."""
        for key, table in self.positions.loads.items():
            index = self.grid.loads.get(key)
            full = FULL_SHARE * max(table.rows.values(), default=0.0)
            if index is None or full <= 0.0:
                continue
            best: Extreme | None = None
            for sample in samples:
                if table.rows[self.positions.row_of(key, sample.assignment)] < full:
                    continue
                volts = abs(sample.across(index))
                if best is None or sign * volts > sign * best.value + 1e-9:
                    best = Extreme(volts, sample)
            if best is not None:
                yield key, best
