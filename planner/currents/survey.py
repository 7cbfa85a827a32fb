"""The worst of every wire, contact, fuse and load, over all positions: which position, how much.

First each load on its own in every setting that it knows (the *plain* samples); they show which way its
current takes. From that follows for each branch which loads can meet in it, and ``heaviest`` finds the
position in which they take most; for each load the position in which the others pull its voltage down most.
Those positions are solved too. Every number is that of a solved operating point of the whole loom.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

from planner.circuit.fitted import LoadKey
from planner.currents.earlier import Earlier
from planner.currents.grid import Grid
from planner.currents.heaviest import Row, Table, merged
from planner.currents.laws import Resistance
from planner.currents.positions import LEAST_AMPS, Positions
from planner.currents.solver import Branch, Point, solve
from planner.currents.tracing import Flow

SLOPE = 0.75  # by how much of itself a load's current falls with its volts: filaments 0.55, windings 1
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
    solved: int  # operating points that were not known from an earlier survey


def survey(grid: Grid, positions: Positions, like: Survey | None = None) -> Survey:
    """Look at a loom electrically; what holds as in a survey of a loom much like it is taken from there."""
    return _Surveyor(grid, positions, like).survey()


# What meets in a branch: for each load the rows of its table in which it does, and the amps it then brings.
Meeting = tuple[tuple[LoadKey, tuple[tuple[Row, float], ...]], ...]


class _Surveyor:
    """A survey under way."""

    def __init__(self, grid: Grid, positions: Positions, like: Survey | None) -> None:
        self.grid, self.positions = grid, positions
        self.solved = 0
        self.earlier: Earlier | None = None
        if like is not None:
            points = ((s.position, s.amps, s.point) for s in like.samples)
            self.earlier = Earlier(like.grid, points, grid)
            self.earlier.meet(positions.view.net.variables)
        self.volts = abs(positions.view.net.volts)
        self.branches = [gated.branch for gated in grid.branches]
        self.samples: dict[tuple[int, ...], Sample] = {}
        self.met: dict[int, dict[LoadKey, dict[Row, float]]] = {}
        self.alone: dict[LoadKey, list[Sample]] = {}
        self.ways: dict[LoadKey, dict[Row, dict[int, float]]] = {}
        numbers = positions.view.variable_number
        guards = {
            variable for gated in grid.branches if gated.kind == "source" for variable, _ in gated.guard
        }
        self.drivers = sorted(numbers[name] for name in guards)  # what decides whether a generator gives

    def survey(self) -> Survey:
        """Solve what has to be solved, and take the extremes."""
        stopped = dict.fromkeys(self.drivers, 0)
        self._sample(self.positions.heaviest("rest", list, stopped))  # everything at rest comes first
        self._plain()
        positions, unheld = self.positions, self.positions.lasting
        for name, tables in self._meetings():
            for held in self._driven():
                self._sample(positions.meeting(name, tables, held))
                self._sample(positions.meeting(("lasting", name), partial(_with, tables, unheld), held))
        for name, tables in self._drags(1.0):
            lasting = positions.heaviest(("lasting", name), partial(_with, tables, unheld), stopped)
            self._sample(lasting or positions.heaviest(name, tables, stopped))
        for name, tables in self._drags(-1.0):
            for held in self._driven():
                self._sample(positions.heaviest(("relieved", name), tables, held))
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
            self.solved,
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
            point = self.earlier.point(position, closed) if self.earlier else None
            if point is None:
                point = solve([self.branches[i] for i in closed], self.grid.zero)
                self.solved += 1
            amps = dict(zip(closed, point.amps, strict=True))
            held = self.positions.held(position)
            found = Sample(assignment, position, held, self.branches, amps, point)
            self.samples[key] = found
        return found

    def _plain(self) -> None:
        """Every load in each of its settings; which way its current takes there."""
        stopped, *driven = self._driven()
        for key, table in self.positions.loads.items():
            index = self.grid.loads.get(key, -1)
            most = max(table.rows.values(), default=0.0)
            for row, ideal in table.rows.items():
                if ideal < LEAST_AMPS:
                    continue
                sample = self._sample(self.positions.alone(key, row, stopped))
                if sample is not None and index in sample.amps:
                    if ideal >= FULL_SHARE * most:
                        self.alone.setdefault(key, []).append(sample)
                    self._follow(key, row, index, sample)
                if ideal == most:
                    for held in driven:
                        self._sample(self.positions.alone(key, row, held))

    def _follow(self, key: LoadKey, row: Row, index: int, sample: Sample) -> None:
        """Note which branches carry a load's current."""
        amps = abs(sample.amps[index])
        way = self.ways.setdefault(key, {})[row] = sample.flow.shares(index)
        for branch, share in way.items():
            rows = self.met.setdefault(branch, {}).setdefault(key, {})
            rows[row] = max(rows.get(row, 0.0), amps * share)

    @cached_property
    def _meeting_of(self) -> dict[int, Meeting]:
        """What meets in each branch; branches in series have one meeting."""
        known: dict[Meeting, Meeting] = {}
        found = {}
        for branch, met in self.met.items():
            meeting = tuple(
                (key, tuple((row, round(amps, 3)) for row, amps in sorted(rows.items())))
                for key, rows in sorted(met.items())
            )
            found[branch] = known.setdefault(meeting, meeting)
        return found

    def _meetings(self) -> Iterator[tuple[object, Callable[[], list[Table]]]]:
        """Yield for each meeting of several loads what is to be greatest; one alone has been seen."""
        for meeting in dict.fromkeys(self._meeting_of.values()):
            if len(meeting) > 1:
                yield meeting, partial(self._summands, meeting)

    def _summands(self, meeting: Meeting) -> list[Table]:
        """What the loads of a meeting bring, less what every load takes from them by pulling volts down."""
        tables = [self._table(key, dict(rows)) for key, rows in meeting]
        for key, rows in meeting:
            row, amps = max(rows, key=lambda found: found[1])
            per_volt = amps * SLOPE / self.volts
            tables += self._pulls(key, self._ohms_by_meeting(self.ways[key][row]), -per_volt)
        return list(merged(tables).values())

    def _table(self, key: LoadKey, rows: Mapping[Row, float]) -> Table:
        """A load's summand: nothing in the settings not named."""
        load = self.positions.loads[key]
        return Table(load.scope, {row: rows.get(row, 0.0) for row in load.rows})

    def _drags(self, factor: float) -> Iterator[tuple[object, Callable[[], list[Table]]]]:
        """Yield for each load, on its ways, how much the others drag its volts down, times a factor, in V."""
        seen = set()
        for key, ways in self.ways.items():
            table = self.positions.loads[key]
            full = FULL_SHARE * max(table.rows.values(), default=0.0)
            for row, way in ways.items():
                if table.rows[row] < full:
                    continue
                ohms = self._ohms_by_meeting(way)
                name = (key, tuple(ohms.items()))
                if name not in seen:
                    seen.add(name)
                    yield (*name, row), partial(self._dragged, key, row, ohms, factor)

    def _ohms_by_meeting(self, way: Mapping[int, float]) -> dict[Meeting, float]:
        """The ohms of a way that a load shares with each meeting, in whole milliohms."""
        found: dict[Meeting, float] = {}
        for branch, share in way.items():
            law = self.branches[branch].law
            if isinstance(law, Resistance) and self.branches[branch].name[0] != "load":
                meeting = self._meeting_of[branch]
                found[meeting] = found.get(meeting, 0.0) + share * law.ohms
        return {meeting: round(ohms, 3) for meeting, ohms in found.items()}

    def _pulls(self, key: LoadKey, ohms_of: Mapping[Meeting, float], factor: float = 1.0) -> list[Table]:
        """What each other load takes from a load's volts, times a factor, in V."""
        drops: dict[LoadKey, dict[Row, float]] = {}
        for meeting, ohms in ohms_of.items():
            for other, rows in meeting:
                if other != key:
                    into = drops.setdefault(other, {})
                    for at, amps in rows:
                        into[at] = into.get(at, 0.0) + factor * ohms * amps
        return [self._table(other, rows) for other, rows in drops.items()]

    def _dragged(
        self, key: LoadKey, row: Row, ohms_of: Mapping[Meeting, float], factor: float
    ) -> list[Table]:
        return [Table(self.positions.loads[key].scope, {row: 0.0}), *self._pulls(key, ohms_of, factor)]

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


def _with(tables: Callable[[], list[Table]], more: Sequence[Table]) -> list[Table]:
    return [*tables(), *more]
