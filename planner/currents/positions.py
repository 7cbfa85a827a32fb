"""Which positions there are to look at: what each load takes in each setting of the few variables it asks.

The numbers come from the first view, in which joints are ideal. They only say where to look: everything
that is reported is solved again, with all resistances, as one operating point of the whole loom.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import product

from planner.circuit.fitted import LoadKey
from planner.currents.heaviest import Row, Table, maximise
from planner.proof.behaviour import View

Assignment = Mapping[int, int]
LEAST_AMPS = 1e-6


def as_it_is(number: float) -> object:
    """A current, not judged; one object, so that equal functions stay equal."""
    return number


class Positions:
    """The positions of one loom: variables by number, what may be together, and what loads take."""

    def __init__(self, view: View) -> None:
        self.view = view
        self.sizes = view.states.sizes

    @cached_property
    def loads(self) -> Mapping[LoadKey, Table]:
        """Amps of each load, without sign, for every setting of what it depends on."""
        tables = {}
        for key in self.view.net.loads:
            function = self.view.states.function(as_it_is, "load", *key)
            scope = tuple(sorted(function.support))
            rows = {}
            for row in product(*(range(self.sizes[v]) for v in scope)):
                amps = function.at(dict(zip(scope, row, strict=True)))
                assert isinstance(amps, float)
                rows[row] = abs(amps)
            tables[key] = Table(scope, rows)
        return tables

    @cached_property
    def together(self) -> tuple[Table, ...]:
        """Which hidden states last in which settings: one table for each group of hidden variables."""
        states = self.view.states
        groups = {states.group(frozenset((v,))).hidden: states.group(frozenset((v,))) for v in states.hidden}
        tables = []
        for hidden, group in sorted(groups.items()):
            if any(set(hidden) < set(other) for other in groups):
                continue
            rows = {(*setting, *state): 0.0 for setting, state in group.lasting}
            tables.append(Table((*group.controls, *hidden), rows))
        return tuple(tables)

    def _laws(self, variables: frozenset[int]) -> list[Table]:
        """The tables that tie some hidden variables to their controls."""
        hidden = variables & self.view.states.hidden
        return [table for table in self.together if hidden & set(table.scope)]

    def settings(self, key: LoadKey) -> Iterator[tuple[Row, dict[int, int]]]:
        """Yield every setting in which a load takes current: its own row, and one assignment it can be in."""
        load = self.loads[key]
        for row, amps in load.rows.items():
            if amps > LEAST_AMPS:
                found = self.heaviest([Table(load.scope, {row: 0.0})])
                if found is not None:
                    yield row, found

    def heaviest(self, tables: list[Table], held: Mapping[int, int] | None = None) -> dict[int, int] | None:
        """A full assignment in which the sum of tables is greatest; what they do not ask is at rest.

        ``held`` are variables that must have a value. None if the tables allow nothing.
        """
        held = held or {}
        fixed = [Table((variable,), {(value,): 0.0}) for variable, value in held.items()]
        scope = frozenset(v for table in tables for v in table.scope)
        found = maximise([*tables, *fixed, *self._laws(scope)], self.sizes)
        return None if found is None else self._complete(found)

    def _complete(self, found: dict[int, int]) -> dict[int, int]:
        """Everything else at rest, hidden variables in a state that lasts there."""
        for table in self.together:
            hidden = [v for v in table.scope if v in self.view.states.hidden]
            if all(v in found for v in hidden):
                continue
            known = [Table((v,), {(found.get(v, 0),): 0.0}) for v in table.scope if v not in hidden]
            known += [Table((v,), {(found[v],): 0.0}) for v in hidden if v in found]
            found |= maximise([table, *known], self.sizes) or dict.fromkeys(hidden, 0)
        return {variable: found.get(variable, 0) for variable in self.sizes}

    def row_of(self, key: LoadKey, assignment: Assignment) -> Row:
        """The row of a load's table in a position."""
        return tuple(assignment[v] for v in self.loads[key].scope)

    def labels(self, assignment: Assignment) -> dict[str, str]:
        """An assignment as labels by name."""
        return self.view.position(assignment)
