"""Hidden variables: what ties them to their controls, and a state of theirs that lasts."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

from planner.currents.found import Assignment
from planner.currents.positions import Positions
from planner.currents.sums import IMPOSSIBLE, Sums, Table


class Hidden:
    """The hidden variables of one loom."""

    def __init__(self, positions: Positions) -> None:
        self.positions = positions

    def laws(self, variables: Iterable[int]) -> list[Table]:
        """The tables that tie some hidden variables to their controls."""
        numbers = {n for v in variables for n in self._laws_of.get(v, ())}
        return [self.positions.together[n] for n in sorted(numbers)]

    def complete(self, found: dict[int, int], parts: Sequence[int]) -> dict[int, int]:
        """What is not at rest in some parts, hidden variables in a state that lasts there."""
        touched = {n for v in found for n in self._tables_of.get(v, ())}
        touched.update(n for part in parts for n in self._stirring.get(part, ()))
        for number in sorted(touched):
            table, hidden = self._hidden_of[number]
            if all(v in found for v in hidden):
                continue
            known = {v: found.get(v, 0) for v in table.scope if v in found or v not in hidden}
            own = self.positions.alike.search.heaviest(self.only(known), [table])
            found |= own or dict.fromkeys(hidden, 0)
        return {variable: value for variable, value in found.items() if value}

    def only(self, values: Assignment) -> Sums:
        """Sums that allow variables these values and no other."""
        sizes = self.positions.sizes
        return {
            (variable,): [0.0 if n == value else IMPOSSIBLE for n in range(sizes[variable])]
            for variable, value in values.items()
        }

    @cached_property
    def stirred(self) -> Mapping[int, Assignment]:
        """The parts in which not all can be at rest, as they are where nothing is asked of them."""
        return {part: self.complete({}, (part,)) for part in self._stirring}

    @cached_property
    def _tables_of(self) -> Mapping[int, Sequence[int]]:
        """By variable, the numbers of the tables of hidden variables that it stands in."""
        return _numbered(
            (v, number) for number, table in enumerate(self.positions.together) for v in table.scope
        )

    @cached_property
    def _laws_of(self) -> Mapping[int, Sequence[int]]:
        """By hidden variable, the numbers of the tables that it stands in."""
        return _numbered((v, number) for number, (_, hidden) in enumerate(self._hidden_of) for v in hidden)

    @cached_property
    def _stirring(self) -> Mapping[int, Sequence[int]]:
        """By part, the numbers of those tables that do not allow all to be at rest."""
        return _numbered(
            (self.positions.parts.of(table.scope), number)
            for number, table in enumerate(self.positions.together)
            if (0,) * len(table.scope) not in table.rows
        )

    @cached_property
    def _hidden_of(self) -> tuple[tuple[Table, tuple[int, ...]], ...]:
        """The tables of hidden variables, each with those of its variables that are hidden."""
        hidden = self.positions.view.states.hidden
        return tuple(
            (table, tuple(v for v in table.scope if v in hidden)) for table in self.positions.together
        )


def _numbered(pairs: Iterable[tuple[int, int]]) -> Mapping[int, Sequence[int]]:
    found: dict[int, list[int]] = {}
    for key, number in pairs:
        found.setdefault(key, []).append(number)
    return found
