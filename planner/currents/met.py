"""What meets in each branch, by what loads bring there: the same for all looms in which they bring the same.

So it is worked out once for a loom and for those in which a wire is longer or thicker.
"""

from collections.abc import Mapping, Sequence
from functools import cached_property
from operator import itemgetter
from typing import NamedTuple

from planner.circuit.fitted import LoadKey
from planner.currents.parts import Parts
from planner.currents.sums import Row, Scope, Table

Brought = tuple[tuple[int, float], ...]  # branches of a load's way, and the amps that it brings there
Brings = Sequence[tuple[int, float]]  # amps, each with its place among the numbers of a part
Numbers = list[float]  # of a part: for every row of each scope of its loads, one scope after another
Entries = tuple[tuple[Row, float], ...]  # the rows of its table in which a load comes, and the amps it brings
# The loads that come through a branch, each with what its table asks.
Meeting = tuple[tuple[LoadKey, Scope, Entries], ...]


class Head(NamedTuple):
    """A load in a meeting: the row of its table in which it brings most there, and how much."""

    key: LoadKey
    row: Row
    amps: float


class Met:
    """The meetings of one loom, each told by its number; ``known`` has the numbers of those met before."""

    def __init__(
        self,
        loads: Mapping[LoadKey, Table],
        parts: Parts,
        brought: Sequence[tuple[LoadKey, Row, Brought]],
        known: dict[Meeting, int],
    ) -> None:
        self.loads, self.parts = loads, parts
        self.rows_of_scope = {table.scope: len(table.rows) for table in loads.values()}
        met: dict[int, list[tuple[int, float]]] = {}
        for place, (_, _, way) in enumerate(brought):
            for branch, amps in way:
                met.setdefault(branch, []).append((place, amps))
        # In the order of their branches, so that nothing depends on which looms were met before.
        by_number: dict[int, Mapping[LoadKey, Entries]] = {}
        of_same: dict[tuple[tuple[int, float], ...], int] = {}  # branches in series have the same number
        self.of_branch: dict[int, int] = {}
        for branch, own in met.items():
            same = tuple(own)
            if same not in of_same:
                entries = self._entries(brought, same)
                meeting = tuple((key, loads[key].scope, entries[key]) for key in sorted(entries))
                of_same[same] = known.setdefault(meeting, len(known))
                by_number[of_same[same]] = {key: rows for key, _, rows in meeting}
            self.of_branch[branch] = of_same[same]
        self.meetings: Mapping[int, Mapping[LoadKey, Entries]] = by_number
        self.rank = {number: place for place, number in enumerate(by_number)}

    @staticmethod
    def _entries(
        brought: Sequence[tuple[LoadKey, Row, Brought]], own: Sequence[tuple[int, float]]
    ) -> dict[LoadKey, Entries]:
        """By load the rows in which it comes; ``own`` are places in what is brought, and amps."""
        found: dict[LoadKey, list[tuple[Row, float]]] = {}
        for place, amps in own:
            key, row, _ = brought[place]
            found.setdefault(key, []).append((row, amps))
        return {key: tuple(rows) for key, rows in found.items()}

    @cached_property
    def heads(self) -> Mapping[int, Sequence[Head]]:
        """The loads of each meeting."""
        return {
            number: [Head(key, *max(entries, key=itemgetter(1))) for key, entries in meeting.items()]
            for number, meeting in self.meetings.items()
        }

    @cached_property
    def scopes(self) -> Mapping[int, Sequence[Scope]]:
        """The scopes of the loads of each part, in the order of its numbers."""
        found: dict[int, dict[Scope, None]] = {}
        for table in self.loads.values():
            found.setdefault(self.parts.of(table.scope), {})[table.scope] = None
        return {part: tuple(scopes) for part, scopes in found.items()}

    @cached_property
    def _starts(self) -> Mapping[Scope, int]:
        """Where the numbers of each scope begin among those of its part."""
        sizes = self.rows_of_scope
        return {
            scope: sum(sizes[before] for before in scopes[:at])
            for scopes in self.scopes.values()
            for at, scope in enumerate(scopes)
        }

    @cached_property
    def sizes(self) -> Mapping[int, int]:
        """How many numbers each part has."""
        return {part: sum(self.rows_of_scope[scope] for scope in own) for part, own in self.scopes.items()}

    def spans(self, part: int) -> Mapping[Scope, slice]:
        """Where the numbers of each scope of a part stand."""
        starts, sizes = self._starts, self.rows_of_scope
        return {scope: slice(starts[scope], starts[scope] + sizes[scope]) for scope in self.scopes[part]}

    @cached_property
    def places(self) -> Mapping[LoadKey, tuple[int, Mapping[Row, int]]]:
        """The part of each load, and where each of its rows stands among the numbers of that part."""
        parts, starts = self.parts, self._starts
        return {
            key: (parts.of(own.scope), {row: place for place, row in enumerate(own.rows, starts[own.scope])})
            for key, own in self.loads.items()
        }

    @cached_property
    def brings(self) -> Mapping[int, Mapping[int, Brings]]:
        """What is brought to each meeting, part by part."""
        found = {}
        for number, meeting in self.meetings.items():
            parts: dict[int, dict[int, float]] = {}
            for key, entries in meeting.items():
                part, places = self.places[key]
                brought = parts.setdefault(part, {})
                for row, amps in entries:
                    place = places[row]
                    brought[place] = brought.get(place, 0.0) + amps
            found[number] = {part: list(brought.items()) for part, brought in parts.items()}
        return found

    def add(self, into: dict[int, Numbers], part: int, brings: Brings, factor: float) -> None:
        """Add what is brought to the numbers of a part, times a factor."""
        numbers = into.get(part)
        if numbers is None:
            numbers = into[part] = [0.0] * self.sizes[part]
        for place, amps in brings:
            numbers[place] += factor * amps

    def by_scope(self, part: int, numbers: Numbers) -> dict[Scope, list[float]]:
        """The numbers of a part scope by scope, those of scopes that nobody brings anything to left out."""
        sums = {}
        for scope in self.scopes[part]:
            start = self._starts[scope]
            own = numbers[start : start + self.rows_of_scope[scope]]
            if any(own):
                sums[scope] = own
        return sums
