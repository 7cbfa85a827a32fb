"""The worst of every wire, contact, fuse and load, over all positions: which position, how much.

First each load on its own in every setting that it knows (the *plain* samples); they show which way its
current takes. From that follows for each branch which loads can meet in it, and ``heaviest`` finds the
position in which they take most; for each load the position in which the others pull its voltage down most.
Those positions are solved too. Every number is that of a solved operating point of the whole loom.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from planner.circuit.fitted import LoadKey
from planner.currents.grid import Grid
from planner.currents.heaviest import Row, Table
from planner.currents.laws import Resistance
from planner.currents.positions import Positions
from planner.currents.solver import Branch, Point, solve
from planner.currents.tracing import Flow

FULL_SHARE = 0.9  # of its greatest current with ideal joints: from there on a load is meant to work fully


@dataclass(frozen=True, slots=True)
class Sample:
    """One solved position."""

    assignment: Mapping[int, int]
    position: Mapping[str, str]
    closed: Sequence[int]  # branches of the grid, in the order of the point's currents
    point: Point

    def amps_of(self, index: int) -> float:
        """Current in a branch of the grid; 0 where it is open."""
        try:
            return self.point.amps[self.closed.index(index)]
        except ValueError:
            return 0.0


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
        self.samples: dict[tuple[int, ...], Sample] = {}
        self.met: dict[int, _Met] = {}
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
        for tables in self._meetings():
            for held in self._driven():
                self._sample(self.positions.heaviest(tables, held))
        for tables in self._drags():
            self._sample(self.positions.heaviest(tables, dict.fromkeys(self.drivers, 0)))
        samples = tuple(self.samples.values())
        return Survey(
            self.grid,
            self.positions,
            samples,
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
            point = solve([self.grid.branches[i].branch for i in closed], self.grid.zero)
            found = self.samples[key] = Sample(assignment, position, closed, point)
        return found

    def _plain(self) -> None:
        """Every load in each of its settings; which way its current takes there."""
        for key in self.positions.loads:
            index = self.grid.loads.get(key)
            if index is None:
                continue
            for row, assignment in self.positions.settings(key):
                sample = self._sample(assignment)
                if sample is None or index not in sample.closed:
                    continue
                here = sample.closed.index(index)
                shares = Flow(self._branches(sample), sample.point).shares(here)
                amps = abs(sample.point.amps[here])
                way = self.ways.setdefault(key, {})[row] = {sample.closed[b]: s for b, s in shares.items()}
                for branch, share in way.items():
                    rows = self.met.setdefault(branch, _Met()).rows.setdefault(key, {})
                    rows[row] = max(rows.get(row, 0.0), amps * share)
                for held in list(self._driven())[1:]:
                    self._sample(
                        self.positions.heaviest([Table(self.positions.loads[key].scope, {row: 0.0})], held)
                    )

    def _branches(self, sample: Sample) -> list[Branch]:
        return [self.grid.branches[i].branch for i in sample.closed]

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
            for index, amps in zip(sample.closed, sample.point.amps, strict=True):
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
            branch = self.grid.branches[index].branch
            best: Extreme | None = None
            for sample in samples:
                if table.rows[self.positions.row_of(key, sample.assignment)] < full:
                    continue
                volts = abs(sample.point.across(branch))
                if best is None or sign * volts > sign * best.value + 1e-9:
                    best = Extreme(volts, sample)
            if best is not None:
                yield key, best
