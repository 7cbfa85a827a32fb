"""Which loads meet in a branch, and so what to look for: where they take most, and where volts are dragged.

The numbers are those of the first view, in which joints are ideal: they only rank positions, and they do not
change with a wire's length.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.laws import Resistance
from planner.currents.positions import Meeting, Positions
from planner.currents.solver import Branch
from planner.currents.sums import IMPOSSIBLE, Row, Scope, Sums, add_times

SLOPE = 0.75  # by how much of itself a load's current falls with its volts: filaments 0.55, windings 1

Ohms = tuple[tuple[int, float], ...]  # of a load's way, by the number of the meeting they are shared in
Brings = Sequence[tuple[int, float]]  # amps, each with the place of its row in its table


class Meetings:
    """What meets where in one loom."""

    def __init__(self, positions: Positions, branches: Sequence[Branch]) -> None:
        self.positions, self.branches = positions, branches
        self.ways: dict[LoadKey, dict[Row, Mapping[int, float]]] = {}
        self._shared: dict[tuple[LoadKey, Row], Ohms] = {}
        self._sums: dict[int, Sums] = {}
        self._drags: dict[tuple[LoadKey, Row, int], dict[Scope, list[float]]] = {}

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

    def sum_of(self, number: int) -> Sums:
        """What the loads of a meeting bring, less what every load takes from them by dragging volts down."""
        found = self._sums.get(number)
        if found is None:
            found = self._sums[number] = self._sum(number)
        return found

    def _sum(self, number: int) -> Sums:
        per_volt = SLOPE / abs(self.positions.view.net.volts)
        sums: dict[Scope, list[float]] = {}
        for own in self._brings[number].values():
            for key, brings in own:
                self._add(sums, key, brings, 1.0)
        parts = self.positions.parts.restless | self._brings[number].keys()
        for key, entries in self._meetings[number]:
            row, amps = max(entries, key=lambda entry: entry[1])
            for part in parts:
                add_times(sums, self._dragged(key, row, part), -amps * per_volt)
        return sums

    def drags(self) -> Iterator[tuple[LoadKey, Row, Ohms]]:
        """Yield each load's full rows that differ in the ohms they share with others."""
        seen = set()
        for key, ways in self.ways.items():
            for row in ways:
                ohms = self._ohms(key, row)
                if self.positions.is_full(key, row) and (key, ohms) not in seen:
                    seen.add((key, ohms))
                    yield key, row, ohms

    def drag_on(self, key: LoadKey, row: Row, factor: float) -> Sums:
        """How much the other loads drag down the volts of a load in one of its rows, times a factor, in V."""
        table, parts = self.positions.loads[key], self.positions.parts
        asked = parts.restless | {parts.of(table.scope)}
        if factor > 0.0:  # else what takes nothing at rest stays there
            asked |= {part for number, _ in self._ohms(key, row) for part in self._brings[number]}
        sums = {table.scope: [0.0 if own == row else IMPOSSIBLE for own in table.rows]}
        for part in sorted(asked):
            add_times(sums, self._dragged(key, row, part), factor)
        return sums

    def _dragged(self, key: LoadKey, row: Row, part: int) -> Sums:
        """How much each other load of a part drags down the volts of a load in one of its rows, in V."""
        found = self._drags.get((key, row, part))
        if found is not None:
            return found
        found = {}
        for number, shared in self._ohms(key, row):
            for other, brings in self._brings[number].get(part, ()):
                if other != key:
                    self._add(found, other, brings, shared)
        if part == self.positions.parts.of(
            self.positions.loads[key].scope
        ):  # of others it is hardly asked twice
            self._drags[key, row, part] = found
        return found

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

    @cached_property
    def _brings(self) -> Mapping[int, Mapping[int, Sequence[tuple[LoadKey, Brings]]]]:
        """What each load brings to each meeting, part by part: amps, and in which place of its rows."""
        places = {
            key: {row: place for place, row in enumerate(table.rows)}
            for key, table in self.positions.loads.items()
        }
        found: dict[int, dict[int, list[tuple[LoadKey, Brings]]]] = {}
        for number, meeting in self._meetings.items():
            parts = found.setdefault(number, {})
            for key, entries in meeting:
                brings = [(places[key][row], amps) for row, amps in entries]
                part = self.positions.parts.of(self.positions.loads[key].scope)
                parts.setdefault(part, []).append((key, brings))
        return found

    def _add(self, sums: dict[Scope, list[float]], key: LoadKey, brings: Brings, factor: float) -> None:
        table = self.positions.loads[key]
        into = sums.get(table.scope)
        if into is None:
            into = sums[table.scope] = [0.0] * len(table.rows)
        for place, amps in brings:
            into[place] += factor * amps
