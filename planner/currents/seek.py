"""Finds positions: where a sum over loads is greatest, part by part of the loom.

What is found in a part is kept under a name for what was asked, for all looms whose loads behave alike there.
"""

import sys
from collections.abc import Callable, Iterable, Mapping
from functools import cached_property
from typing import NamedTuple

from planner.circuit.fitted import LoadKey
from planner.currents.found import Answer, Assignment
from planner.currents.ground import Ground, Group, add_sums
from planner.currents.hidden import Hidden
from planner.currents.positions import Positions
from planner.currents.sums import IMPOSSIBLE, Row, Scope, Sums

FEW = 20  # fewer questions are searched for one by one: numpy takes its time for each step

# What is to be most, under a name that is equal for equal sums where the loads are alike.
Want = tuple[object, Callable[[], Sums]]
Wanted = dict[Group, Want]
Held = tuple[tuple[int, int], ...]
AT_REST: Want = ("rest", dict[Scope, list[float]])


class _Apart(NamedTuple):
    """What was found of many parts: of each, of all together, and the parts that allow nothing."""

    parts: Mapping[int, Assignment]
    together: Assignment
    barred: frozenset[int]


NOTHING = _Apart({}, {}, frozenset())


class Seek:
    """Looks for positions of one loom."""

    def __init__(self, positions: Positions) -> None:
        self.positions = positions
        self.hidden = Hidden(positions)
        self._known = positions.alike.heaviest
        self._apart: dict[object, tuple[Wanted, _Apart]] = {}
        self._ground = Ground(positions, self.hidden)

    def alone(self, key: LoadKey, row: Row, held: Assignment) -> Answer:
        """A position in which a load is at a row of its table, and as little else as can be."""
        return self.heaviest(self.alone_in(key, row), held, quiet=True)

    def alone_in(self, key: LoadKey, row: Row) -> Wanted:
        """What is wanted for that, prepared for ``heaviest``."""
        table = self.positions.loads[key]
        sums = {table.scope: [0.0 if own == row else IMPOSSIBLE for own in table.rows]}
        return {(self.positions.parts.of(table.scope),): (("alone", table.scope, row), lambda: sums)}

    def heaviest(
        self,
        wanted: Wanted,
        held: Assignment,
        far: Wanted | None = None,
        *,
        quiet: bool = False,
        lasting: bool = False,
    ) -> Answer:
        """What is not at rest where all sums together are greatest; what they do not ask is at rest.

        ``held`` are variables that must have a value; ``far`` is wanted of parts that are not asked
        otherwise; ``quiet`` prefers little else to be on; ``lasting`` leaves what springs back where it
        stays. None if they allow nothing.
        """
        of_variable = self.positions.parts.of_variable
        apart = self._each(far or {}, held, quiet, lasting)
        asked = {part for group in wanted for part in group}
        groups = dict(wanted)
        for part in (*map(of_variable, held), *(self.positions.parts.restless if quiet else ())):
            if part not in asked and part not in apart.parts:
                asked.add(part)
                groups[part,] = AT_REST
        if not apart.barred <= asked:
            return None
        near: dict[int, int] = {}
        for group, want in groups.items():
            own = self._in_group(group, want, held, quiet, lasting)
            if own is None:
                return None
            near |= own
        for part, stirred in self.hidden.stirred.items():
            if part not in asked and part not in apart.parts:
                near |= stirred
        before = {v: value for part in asked for v, value in apart.parts.get(part, {}).items()}
        if near == before:
            return apart.together
        found = {v: value for v, value in apart.together.items() if v not in before} | near
        return {variable: found[variable] for variable in sorted(found)}

    def _each(self, wanted: Wanted, held: Assignment, quiet: bool, lasting: bool) -> _Apart:
        """What is not at rest in each part, for what is wanted of many: found once."""
        memory = (id(wanted), tuple(held.items()), quiet, lasting)
        if not wanted:
            return NOTHING
        if memory not in self._apart:
            found = {
                group[0]: self._in_group(group, want, held, quiet, lasting) for group, want in wanted.items()
            }
            parts = {part: own or {} for part, own in found.items()}
            together = dict(sorted(each for own in parts.values() for each in own.items()))
            barred = frozenset(part for part, own in found.items() if own is None)
            self._apart[memory] = (wanted, _Apart(parts, together, barred))
        return self._apart[memory][1]

    def look_up(
        self, asked: Iterable[tuple[Wanted, Assignment]], *, quiet: bool = False, lasting: bool = False
    ) -> None:
        """Search at once for all that ``heaviest`` will be asked, each with what is held, where that pays."""
        if "numpy" not in sys.modules:
            return
        new: dict[tuple[Group, Held], dict[object, Callable[[], Sums]]] = {}
        held_in: dict[tuple[Group, Held], Held] = {}
        for wanted, held in {(id(wanted), *held.items()): (wanted, held) for wanted, held in asked}.values():
            all_held = tuple(held.items())
            for group, (name, sums) in wanted.items():
                values = held_in.get((group, all_held))
                if values is None:
                    values = held_in[group, all_held] = self._held_in(group, held)
                memory = (name, *map(self._kind, group), values, quiet, lasting)
                if memory not in self._known:
                    new.setdefault((group, values), {})[memory] = sums
        for (group, values), own in new.items():
            if len(own) >= FEW:
                self._search_all(group, own, dict(values), quiet, lasting)

    def _search_all(
        self,
        group: Group,
        asked: Mapping[object, Callable[[], Sums]],
        held: Assignment,
        quiet: bool,
        lasting: bool,
    ) -> None:
        from planner.currents.asked_together import in_columns, with_ground  # noqa: PLC0415 - numpy is slow to import

        memories = list(asked)
        counted, _ = self._ground.of(group, (), held, quiet, lasting)
        for own, columns in in_columns(list(asked.values()), frozenset(counted)):
            if len(own) < FEW:
                continue
            ground, laws = self._ground.of(group, columns, held, quiet, lasting)
            summands = with_ground(ground, columns, len(own))
            found = self.positions.alike.search.heaviest_of_each(summands, laws, len(own))
            for n, best in zip(own, found, strict=True):
                self._known[memories[n]] = None if best is None else self.hidden.complete(best, group)

    def _held_in(self, group: Group, held: Assignment) -> Held:
        of_variable = self.positions.parts.of_variable
        return tuple([each for each in held.items() if of_variable(each[0]) in group])

    def _in_group(
        self, group: Group, want: Want, held: Assignment, quiet: bool, lasting: bool
    ) -> Assignment | None:
        """What is not at rest in some parts where what is wanted is greatest."""
        name, sums = want
        values = self._held_in(group, held)
        memory = (name, *map(self._kind, group), values, quiet, lasting)
        if memory not in self._known:
            self._known[memory] = self._search(group, sums(), dict(values), quiet, lasting)
        return self._known[memory]

    def _search(
        self, group: Group, sums: Sums, held: Assignment, quiet: bool, lasting: bool
    ) -> dict[int, int] | None:
        """The same, looked for."""
        ground, laws = self._ground.of(group, sums, held, quiet, lasting)
        summands = dict(ground)
        add_sums(summands, sums)
        best = self.positions.alike.search.heaviest(summands, laws)
        return None if best is None else self.hidden.complete(best, group)

    def _kind(self, part: int) -> int:
        """A number for how the loads of a part behave."""
        return self._kinds.get(part, -1)

    @cached_property
    def _kinds(self) -> Mapping[int, int]:
        own: dict[int, list[tuple[LoadKey, int]]] = {}
        for key, table in self.positions.loads.items():
            own.setdefault(self.positions.parts.of(table.scope), []).append((key, id(table)))
        known = self.positions.alike.kinds  # the tables are kept, so their ids stay their own
        return {
            part: known.setdefault((part, tuple(sorted(loads))), len(known)) for part, loads in own.items()
        }
