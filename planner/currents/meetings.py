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
Brings = Sequence[tuple[int, float]]  # amps, each with its place among the numbers of a part
Numbers = list[float]  # of a part: for every row of each scope of its loads, one scope after another


class Meetings:
    """What meets where in one loom."""

    def __init__(self, positions: Positions, branches: Sequence[Branch]) -> None:
        self.positions, self.branches = positions, branches
        self.ways: dict[LoadKey, dict[Row, Mapping[int, float]]] = {}
        self._shared: dict[tuple[LoadKey, Row], Ohms] = {}
        self._sums: dict[int, Sums] = {}
        self._drags: dict[tuple[LoadKey, Row], Mapping[int, Numbers]] = {}

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
        found: dict[int, Numbers] = {}
        for part, brings in self._brings[number].items():
            self._add(found, part, brings, 1.0)
        asked = self.positions.parts.restless | self._brings[number].keys()
        for key, entries in self._meetings[number].items():
            row, amps = max(entries, key=lambda entry: entry[1])
            minds = amps * per_volt
            for part, volts in self._drag(key, row).items():
                if part in asked:
                    into = found.get(part) or [0.0] * len(volts)
                    found[part] = [own - minds * other for own, other in zip(into, volts, strict=True)]
        return self._by_scope(found)

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
        """How much the other loads drag down the volts of one of them in one of its rows, times a factor."""
        table, parts = self.positions.loads[key], self.positions.parts
        near = parts.restless | {parts.of(table.scope)}
        sums = self._by_scope(
            {
                part: [factor * own for own in volts]
                for part, volts in self._drag(key, row).items()
                if factor > 0.0 or part in near  # what takes nothing at rest stays there
            }
        )
        own = sums.get(table.scope) or [0.0] * len(table.rows)
        sums[table.scope] = [
            volts if other == row else IMPOSSIBLE for other, volts in zip(table.rows, own, strict=True)
        ]
        return sums

    def _drag(self, key: LoadKey, row: Row) -> Mapping[int, Numbers]:
        """What the other loads drag the volts of one down by in one of its rows, part by part, in V."""
        found = self._drags.get((key, row))
        if found is None:
            found = self._drags[key, row] = {}
            for number, ohms in self._ohms(key, row):
                for part, brings in self._brings[number].items():
                    self._add(found, part, brings, ohms)
                part, places = self._places[key]
                for other, amps in self._meetings[number].get(key, ()):
                    found[part][places[other]] -= ohms * amps  # its own it does not mind
        return found

    def _ohms(self, key: LoadKey, row: Row) -> Ohms:
        known = self._shared.get((key, row))
        if known is None:
            known = self._shared[key, row] = self._ohms_of(self.ways[key][row])
        return known

    def _ohms_of(self, way: Mapping[int, float]) -> Ohms:
        found: dict[int, float] = {}
        for branch, share in way.items():
            if ohms := self._branch_ohms[branch]:
                number = self._of_branch[branch]
                found[number] = found.get(number, 0.0) + share * ohms
        return tuple((number, round(ohms, 3)) for number, ohms in sorted(found.items()))

    @cached_property
    def _branch_ohms(self) -> Sequence[float]:
        """The ohms of what loads may share: of everything but loads, where it is a resistance."""
        return [
            branch.law.ohms if isinstance(branch.law, Resistance) and branch.name[0] != "load" else 0.0
            for branch in self.branches
        ]

    @cached_property
    def _scopes(self) -> Mapping[int, Sequence[Scope]]:
        """The scopes of the loads of each part, in the order of its numbers."""
        found: dict[int, dict[Scope, None]] = {}
        for table in self.positions.loads.values():
            found.setdefault(self.positions.parts.of(table.scope), {})[table.scope] = None
        return {part: tuple(scopes) for part, scopes in found.items()}

    @cached_property
    def _starts(self) -> Mapping[Scope, int]:
        """Where the numbers of each scope begin among those of its part."""
        sizes = self.positions.rows_of_scope
        return {
            scope: sum(sizes[before] for before in scopes[:at])
            for scopes in self._scopes.values()
            for at, scope in enumerate(scopes)
        }

    @cached_property
    def _places(self) -> Mapping[LoadKey, tuple[int, Mapping[Row, int]]]:
        """The part of each load, and where each of its rows stands among the numbers of that part."""
        parts, starts = self.positions.parts, self._starts
        return {
            key: (parts.of(own.scope), {row: place for place, row in enumerate(own.rows, starts[own.scope])})
            for key, own in self.positions.loads.items()
        }

    @cached_property
    def _brings(self) -> Mapping[int, Mapping[int, Brings]]:
        """What is brought to each meeting, part by part."""
        found = {}
        for number, meeting in self._meetings.items():
            parts: dict[int, dict[int, float]] = {}
            for key, entries in meeting.items():
                part, places = self._places[key]
                brought = parts.setdefault(part, {})
                for row, amps in entries:
                    place = places[row]
                    brought[place] = brought.get(place, 0.0) + amps
            found[number] = {part: list(brought.items()) for part, brought in parts.items()}
        return found

    def _add(self, into: dict[int, Numbers], part: int, brings: Brings, factor: float) -> None:
        """Add what is brought to the numbers of a part, times a factor."""
        numbers = into.get(part)
        if numbers is None:
            numbers = into[part] = [0.0] * sum(self.positions.rows_of_scope[s] for s in self._scopes[part])
        for place, amps in brings:
            numbers[place] += factor * amps

    def _by_scope(self, found: Mapping[int, Numbers]) -> dict[Scope, list[float]]:
        """The numbers of parts scope by scope, those of scopes that nobody brings anything to left out."""
        sums = {}
        for part, numbers in found.items():
            for scope in self._scopes[part]:
                start = self._starts[scope]
                own = numbers[start : start + self.positions.rows_of_scope[scope]]
                if any(own):
                    sums[scope] = own
        return sums
