"""Which positions there are to look at: what each load takes in each setting of the few variables it asks.

The numbers come from the first view, in which joints are ideal. They only say where to look: everything
that is reported is solved again, with all resistances, as one operating point of the whole loom.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.circuit.tree import Function
from planner.currents.found import Alike, Assignment, Found
from planner.currents.parts import Parts
from planner.currents.sums import IMPOSSIBLE, Row, Scope, Sums, Table
from planner.currents.table_of import amps_at, table_of
from planner.proof.behaviour import View

LEAST_AMPS = 1e-6
FULL_SHARE = 0.9  # of its greatest current with ideal joints: from there on a load is meant to work fully


def as_it_is(number: float) -> object:
    """A current, not judged; one object, so that equal functions stay equal."""
    return number


class Positions:
    """The positions of one loom: variables by number, what may be together, and what loads take."""

    def __init__(self, view: View, found: Found | None = None) -> None:
        self.view = view
        self.sizes = view.states.sizes
        self.found = found or Found()

    @cached_property
    def loads(self) -> Mapping[LoadKey, Table]:
        """Amps of each load, without sign, for every setting of what it depends on."""
        tables = {}
        for key, function in self._functions.items():
            known = self.found.tables.get(id(function))
            if known is None:
                known = self.found.tables[id(function)] = (function, table_of(function, self.sizes))
            tables[key] = known[1]
        return tables

    @cached_property
    def _functions(self) -> Mapping[LoadKey, Function]:
        return {key: self.view.states.function(as_it_is, "load", *key) for key in self.view.net.loads}

    @cached_property
    def _more(self) -> Mapping[LoadKey, Function]:
        """The loads that hang on more than their table tells."""
        return {
            key: function
            for key, function in self._functions.items()
            if len(function.support) > len(self.loads[key].scope)
        }

    @cached_property
    def parts(self) -> Parts:
        """Which variables hang together."""
        return Parts(self.loads.values(), self.together)

    @cached_property
    def together(self) -> tuple[Table, ...]:
        """Which hidden states last in which settings: one table for each group of hidden variables."""
        states = self.view.states
        groups = {states.group(frozenset((v,))).hidden: states.group(frozenset((v,))) for v in states.hidden}
        tables = []
        for hidden, group in sorted(groups.items()):
            if any(set(hidden) < set(other) for other in groups):
                continue
            known = self.found.tables.get(id(group))
            if known is None:
                rows = {(*setting, *state): 0.0 for setting, state in group.lasting}
                known = self.found.tables[id(group)] = (group, Table((*group.controls, *hidden), rows))
            tables.append(known[1])
        return tuple(tables)

    @cached_property
    def lasting(self) -> Sums:
        """For each control that springs back, the positions that it stays in."""
        view = self.view
        return {
            (view.variable_number[name],): [
                IMPOSSIBLE if value in variable.sprung else 0.0 for value in variable.values
            ]
            for name, variable in view.net.variables.items()
            if variable.sprung
        }

    def held(self, assignment: Assignment) -> int:
        """How many levers and buttons are held against their spring in a position."""
        return sum(assignment.get(variable, 0) in values for variable, values in self._springs)

    @cached_property
    def _springs(self) -> tuple[tuple[int, frozenset[int]], ...]:
        """The controls that spring back, each with the values that it does not stay in."""
        return tuple(
            (scope[0], frozenset(value for value, own in enumerate(numbers) if own == IMPOSSIBLE))
            for scope, numbers in self.lasting.items()
        )

    @cached_property
    def alike(self) -> Alike:
        """What is known of looms with the same variables and springs whose hidden variables move alike."""
        kind = (tuple(self.sizes.items()), self._springs, tuple(map(id, self.together)))
        return self.found.alike.setdefault(kind, Alike(self.sizes))

    def is_full(self, key: LoadKey, row: Row) -> bool:
        """Whether a load is meant to work fully in a row of its table."""
        return self._is_all(key, self.loads[key].rows[row])

    def _is_all(self, key: LoadKey, amps: float) -> bool:
        return amps > LEAST_AMPS and amps >= FULL_SHARE * self._greatest[key]

    @cached_property
    def _greatest(self) -> Mapping[LoadKey, float]:
        return {key: max(table.rows.values()) for key, table in self.loads.items()}

    def row_of(self, key: LoadKey, assignment: Assignment) -> Row:
        """The row of a load's table in a position."""
        return tuple([assignment.get(v, 0) for v in self.loads[key].scope])

    def full_at(self, assignment: Assignment) -> frozenset[LoadKey]:
        """The loads that are meant to work fully in a position."""
        position = tuple(assignment.items())
        known = self._full_at.get(position)
        if known is None:
            known = self._full_at[position] = frozenset(
                key
                for key in self._full_by_tables(assignment)
                if key not in self._more or self._is_all(key, amps_at(self._more[key], assignment))
            )
        return known

    @cached_property
    def _full_at(self) -> dict[object, frozenset[LoadKey]]:
        """By what is not at rest, as far as any loom asked whose loads behave alike."""
        more = tuple((key, id(function)) for key, function in self._more.items())
        return self.alike.full.setdefault((self.kind, more), {})

    def _full_by_tables(self, assignment: Assignment) -> Iterator[LoadKey]:
        moved = {scope for variable in assignment for scope in self._scopes_of.get(variable, ())}
        for scope, keys in self._full_at_rest.items():
            if scope not in moved:
                yield from keys
        for scope in moved:
            yield from self._full[scope].get(tuple([assignment.get(v, 0) for v in scope]), ())

    @cached_property
    def _scopes_of(self) -> Mapping[int, Sequence[Scope]]:
        """By variable, the scopes that ask it."""
        found: dict[int, list[Scope]] = {}
        for scope in self._full:
            for variable in scope:
                found.setdefault(variable, []).append(scope)
        return found

    @cached_property
    def _full_at_rest(self) -> Mapping[Scope, Sequence[LoadKey]]:
        at_rest = {scope: rows.get((0,) * len(scope), ()) for scope, rows in self._full.items()}
        return {scope: keys for scope, keys in at_rest.items() if keys}

    @cached_property
    def kind(self) -> object:
        """Equal for looms whose loads and hidden variables behave alike."""
        # What is found is kept, so ids stay their own.
        return (id(self.alike), *((key, id(table)) for key, table in self.loads.items()))

    def is_like(self, other: "Positions") -> bool:
        """Whether loads and hidden variables behave as in another loom, so that assignments mean the same."""
        if self is other:
            return True
        return self.alike is other.alike and self.loads == other.loads and self._more == other._more

    @cached_property
    def _full(self) -> Mapping[Scope, Mapping[Row, Sequence[LoadKey]]]:
        """By the scope of their tables, which loads are meant to work fully in which row."""
        found: dict[Scope, dict[Row, list[LoadKey]]] = {}
        for key, table in self.loads.items():
            own = found.setdefault(table.scope, {})
            for row in table.rows:
                if self.is_full(key, row):
                    own.setdefault(row, []).append(key)
        return found

    @cached_property
    def controls(self) -> frozenset[str]:
        """The variables that a person moves."""
        return frozenset(self.view.net.controls)

    def moved(self, assignment: Assignment) -> dict[str, str]:
        """The labels of what is not at rest, in the order of all variables."""
        names, variables = self.view.states.names, self.view.net.variables
        found = {names[n]: value for n, value in assignment.items() if value}
        return {n: variables[n].values[found[n]] for n in sorted(found, key=self._order.__getitem__)}

    @cached_property
    def _order(self) -> Mapping[str, int]:
        """The place of each variable among all."""
        return {name: place for place, name in enumerate(self.view.net.variables)}

    def labels(self, assignment: Assignment) -> dict[str, str]:
        """An assignment as labels by name."""
        return self.view.position(assignment)
