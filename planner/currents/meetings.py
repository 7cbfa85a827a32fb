"""Which loads meet in a branch, and so what to look for: where they take most, and where volts are dragged.

The numbers are those of the first view, in which joints are ideal: they only rank positions, and they do not
change with a wire's length.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.heaviest import Row, Table
from planner.currents.laws import Resistance
from planner.currents.positions import Meeting, Positions
from planner.currents.solver import Branch

SLOPE = 0.75  # by how much of itself a load's current falls with its volts: filaments 0.55, windings 1

Sums = dict[tuple[int, ...], dict[Row, float]]  # by scope
Ohms = tuple[tuple[int, float], ...]  # of a load's way, by the number of the meeting they are shared in


class Meetings:
    """What meets where in one loom."""

    def __init__(self, positions: Positions, branches: Sequence[Branch]) -> None:
        self.positions, self.branches = positions, branches
        self.ways: dict[LoadKey, dict[Row, Mapping[int, float]]] = {}
        self._dragged: dict[tuple[LoadKey, Ohms], Sums] = {}
        self._shared: dict[tuple[LoadKey, Row], Ohms] = {}
        self._sums: dict[int, list[Table]] = {}

    def follow(self, key: LoadKey, row: Row, way: Mapping[int, float]) -> None:
        """Note the share of a load's current in each branch, in one row of its table."""
        self.ways.setdefault(key, {})[row] = way

    @cached_property
    def _of_branch(self) -> Mapping[int, int]:
        """The number of the meeting in each branch; branches in series have the same."""
        met: dict[int, dict[LoadKey, list[tuple[Row, float]]]] = {}
        for key, ways in self.ways.items():
            rows = self.positions.loads[key].rows
            for row, way in sorted(ways.items()):
                for branch, share in way.items():
                    entry = (row, round(rows[row] * share, 2))
                    met.setdefault(branch, {}).setdefault(key, []).append(entry)
        known = self.positions.found.meetings
        return {
            branch: known.setdefault(
                tuple((key, tuple(entries)) for key, entries in sorted(loads.items())), len(known)
            )
            for branch, loads in met.items()
        }

    @cached_property
    def _meetings(self) -> Mapping[int, Meeting]:
        numbers = set(self._of_branch.values())
        found = self.positions.found.meetings.items()
        return {number: meeting for meeting, number in found if number in numbers}

    def crowded(self) -> Iterator[int]:
        """Yield the number of each meeting of several loads; one alone needs no search."""
        for number, meeting in self._meetings.items():
            if len(meeting) > 1:
                yield number

    def met_in(self, branches: Iterable[int]) -> tuple[int, ...]:
        """The numbers of the meetings in some branches, each once."""
        return tuple(sorted({self._of_branch[b] for b in branches if b in self._of_branch}))

    def sum_of(self, number: int) -> list[Table]:
        """What the loads of a meeting bring, less what every load takes from them by dragging volts down."""
        found = self._sums.get(number)
        if found is None:
            found = self._sums[number] = self._sum(number)
        return found

    def _sum(self, number: int) -> list[Table]:
        sums: Sums = {}
        for key, entries in self._meetings[number]:
            scope = self.positions.loads[key].scope
            self._add(sums, {scope: dict(entries)}, 1.0)
            row, amps = max(entries, key=lambda entry: entry[1])
            per_volt = amps * SLOPE / abs(self.positions.view.net.volts)
            self._add(sums, self._drag(key, self._ohms(key, row)), -per_volt)
        return self._tables(sums)

    def drags(self) -> Iterator[tuple[LoadKey, Row, Ohms]]:
        """Yield each load's full rows that differ in the ohms they share with others."""
        seen = set()
        for key, ways in self.ways.items():
            for row in ways:
                ohms = self._ohms(key, row)
                if self.positions.is_full(key, row) and (key, ohms) not in seen:
                    seen.add((key, ohms))
                    yield key, row, ohms

    def drag_on(self, key: LoadKey, row: Row, ohms: Ohms, factor: float) -> list[Table]:
        """How much the other loads drag down the volts of a load in one of its rows, times a factor, in V."""
        sums: Sums = {}
        self._add(sums, self._drag(key, ohms), factor)
        return [Table(self.positions.loads[key].scope, {row: 0.0}), *self._tables(sums)]

    def _ohms(self, key: LoadKey, row: Row) -> Ohms:
        known = self._shared.get((key, row))
        if known is None:
            known = self._shared[key, row] = self._ohms_of(self.ways[key][row])
        return known

    def _ohms_of(self, way: Mapping[int, float]) -> Ohms:
        found: dict[int, float] = {}
        for branch, share in way.items():
            law = self.branches[branch].law
            if isinstance(law, Resistance) and self.branches[branch].name[0] != "load":
                number = self._of_branch[branch]
                found[number] = found.get(number, 0.0) + share * law.ohms
        return tuple((number, round(ohms, 3)) for number, ohms in sorted(found.items()))

    def _drag(self, key: LoadKey, ohms_by_meeting: Ohms) -> Sums:
        found = self._dragged.get((key, ohms_by_meeting))
        if found is None:
            found = self._dragged[key, ohms_by_meeting] = {}
            for number, ohms in ohms_by_meeting:
                for other, entries in self._meetings[number]:
                    if other != key:
                        self._add(found, {self.positions.loads[other].scope: dict(entries)}, ohms)
        return found

    @staticmethod
    def _add(sums: Sums, more: Mapping[tuple[int, ...], Mapping[Row, float]], factor: float) -> None:
        for scope, rows in more.items():
            into = sums.setdefault(scope, {})
            for row, number in rows.items():
                into[row] = into.get(row, 0.0) + factor * number

    def _tables(self, sums: Sums) -> list[Table]:
        """Sums as tables: a row that is not named counts nothing."""
        return [
            Table(scope, {row: rows.get(row, 0.0) for row in self._every_row[scope]})
            for scope, rows in sums.items()
        ]

    @cached_property
    def _every_row(self) -> Mapping[tuple[int, ...], Iterable[Row]]:
        return {table.scope: table.rows.keys() for table in self.positions.loads.values()}
