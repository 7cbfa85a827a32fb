"""Which loads meet in a branch, and so what to look for: where they take most, and where volts are dragged.

The numbers are those of the first view, in which joints are ideal: they only rank positions, and they do not
change with a wire's length.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.currents.laws import Resistance
from planner.currents.positions import Entries, Positions
from planner.currents.solver import Branch
from planner.currents.sums import IMPOSSIBLE, Row, Scope, Sums

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
        self._own: dict[tuple[LoadKey, Row], Brings] = {}

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
    def _meetings(self) -> Mapping[int, Mapping[LoadKey, Entries]]:
        numbers = set(self._of_branch.values())
        found = self.positions.found.meetings.items()
        return {number: dict(meeting) for meeting, number in found if number in numbers}

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
        weights: dict[int, float] = {}  # by meeting: how much all loads of this one mind an ampere there
        for key, entries in self._meetings[number].items():
            row, amps = max(entries, key=lambda entry: entry[1])
            minds = amps * per_volt
            for other, ohms in self._ohms(key, row):
                weights[other] = weights.get(other, 0.0) + minds * ohms
            self._add(sums, self.positions.loads[key].scope, self._on_itself(key, row), minds)
        for part in self._brings[number]:
            self._add_part(sums, number, part, 1.0)
        asked = self.positions.parts.restless | self._brings[number].keys()
        for other, weight in weights.items():
            for part in asked & self._brings[other].keys():
                self._add_part(sums, other, part, -weight)
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
        """How much all loads drag down the volts of one of them in one of its rows, times a factor, in V."""
        table, parts = self.positions.loads[key], self.positions.parts
        near = parts.restless | {parts.of(table.scope)}
        sums = {table.scope: [0.0 if own == row else IMPOSSIBLE for own in table.rows]}
        for number, shared in self._ohms(key, row):
            met = self._brings[number].keys()
            for part in met if factor > 0.0 else met & near:  # what takes nothing at rest stays there
                self._add_part(sums, number, part, factor * shared)
        return sums

    def _on_itself(self, key: LoadKey, row: Row) -> Brings:
        """What a load drags its own volts down by, in V: nothing that it minds."""
        found = self._own.get((key, row))
        if found is None:
            volts: dict[int, float] = {}
            for number, ohms in self._ohms(key, row):
                for other, amps in self._meetings[number].get(key, ()):
                    place = self._places[key][other]
                    volts[place] = volts.get(place, 0.0) + ohms * amps
            found = self._own[key, row] = list(volts.items())
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
    def _places(self) -> Mapping[LoadKey, Mapping[Row, int]]:
        """At which place of its table each row of a load stands."""
        loads = self.positions.loads
        return {key: {row: place for place, row in enumerate(table.rows)} for key, table in loads.items()}

    @cached_property
    def _brings(self) -> Mapping[int, Mapping[int, Mapping[Scope, Brings]]]:
        """What is brought to each meeting, part by part, by the loads that ask the same variables."""
        found = {}
        for number, meeting in self._meetings.items():
            parts: dict[int, dict[Scope, dict[int, float]]] = {}
            for key, entries in meeting.items():
                scope, places = self.positions.loads[key].scope, self._places[key]
                brought = parts.setdefault(self.positions.parts.of(scope), {}).setdefault(scope, {})
                for row, amps in entries:
                    brought[places[row]] = brought.get(places[row], 0.0) + amps
            found[number] = {
                part: {scope: list(own.items()) for scope, own in scopes.items()}
                for part, scopes in parts.items()
            }
        return found

    def _add_part(self, sums: dict[Scope, list[float]], number: int, part: int, factor: float) -> None:
        """Add what the loads of a part bring to a meeting, times a factor."""
        for scope, brings in self._brings[number][part].items():
            self._add(sums, scope, brings, factor)

    def _add(self, sums: dict[Scope, list[float]], scope: Scope, brings: Brings, factor: float) -> None:
        into = sums.get(scope)
        if into is None:
            into = sums[scope] = [0.0] * self.positions.rows_of_scope[scope]
        for place, amps in brings:
            into[place] += factor * amps
