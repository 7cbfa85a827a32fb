"""Which positions there are to look at: what each load takes in each setting of the few variables it asks.

The numbers come from the first view, in which joints are ideal. They only say where to look: everything
that is reported is solved again, with all resistances, as one operating point of the whole loom.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from planner.circuit.fitted import LoadKey
from planner.circuit.tree import Function
from planner.currents.heaviest import Search
from planner.currents.met import Meeting, Met
from planner.currents.parts import Parts
from planner.currents.sums import IMPOSSIBLE, Row, Scope, Sums, Table, added, every_row
from planner.proof.behaviour import View

Assignment = Mapping[int, int]
LEAST_AMPS = 1e-6
FULL_SHARE = 0.9  # of its greatest current with ideal joints: from there on a load is meant to work fully
QUIET_SHARE = 1e-3  # how much less an ampere that is not asked for counts than one that is


def as_it_is(number: float) -> object:
    """A current, not judged; one object, so that equal functions stay equal."""
    return number


class Alike:
    """What was found for looms with the same variables whose hidden ones move alike."""

    def __init__(self, sizes: Mapping[int, int]) -> None:
        self.search = Search(sizes)
        self.heaviest: dict[object, dict[int, int] | None] = {}


class Found:
    """Positions found before, shared by looms whose loads and hidden variables behave alike."""

    def __init__(self) -> None:
        self.tables: dict[int, tuple[object, Table]] = {}  # by the function or group, which is kept alive
        self.alike: dict[object, Alike] = {}
        self.meetings: dict[Meeting, int] = {}  # each with its number
        self.met: dict[object, Met] = {}  # by what loads bring where


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
        for key in self.view.net.loads:
            function = self.view.states.function(as_it_is, "load", *key)
            known = self.found.tables.get(id(function))
            if known is None:
                known = self.found.tables[id(function)] = (function, self._table(function))
            tables[key] = known[1]
        return tables

    def _table(self, function: Function) -> Table:
        scope = tuple(sorted(function.support))
        rows = {}
        for row in every_row(scope, self.sizes):
            amps = function.at(dict(zip(scope, row, strict=True)))
            assert isinstance(amps, float)
            rows[row] = abs(amps)
        return Table(scope, rows)

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

    def _laws(self, variables: Iterable[int]) -> list[Table]:
        """The tables that tie some hidden variables to their controls."""
        return [self.together[n] for n in sorted({n for v in variables for n in self._laws_of.get(v, ())})]

    @cached_property
    def _laws_of(self) -> Mapping[int, Sequence[int]]:
        """By hidden variable, the numbers of the tables that it stands in."""
        return _by_variable(enumerate(hidden for _, hidden in self._hidden_of))

    @cached_property
    def _alike(self) -> Alike:
        """What is known of looms with the same variables whose hidden ones move alike."""
        kind = (tuple(self.sizes.items()), tuple(map(id, self.together)))
        return self.found.alike.setdefault(kind, Alike(self.sizes))

    @cached_property
    def _quiet(self) -> Mapping[int, Sums]:
        """What loads take, as a small reproach, part by part: of equal positions the quietest is best."""
        parts: dict[int, dict[Scope, list[float]]] = {}
        for table in self.loads.values():
            sums = parts.setdefault(self.parts.of(table.scope), {})
            own = [-QUIET_SHARE * amps for amps in table.rows.values()]
            sums[table.scope] = added(sums[table.scope], own) if table.scope in sums else own
        return parts

    def alone(self, key: LoadKey, row: Row, held: Mapping[int, int]) -> dict[int, int] | None:
        """A position in which a load is at a row of its table, and as little else as can be."""
        scope = self.loads[key].scope
        sums = {scope: [0.0 if own == row else IMPOSSIBLE for own in self.loads[key].rows]}
        return self.heaviest(("alone", scope, row), lambda: sums, held, quiet=True)

    def is_full(self, key: LoadKey, row: Row) -> bool:
        """Whether a load is meant to work fully in a row of its table."""
        amps = self.loads[key].rows[row]
        return amps > LEAST_AMPS and amps >= FULL_SHARE * self._greatest[key]

    @cached_property
    def _greatest(self) -> Mapping[LoadKey, float]:
        return {key: max(table.rows.values()) for key, table in self.loads.items()}

    def heaviest(
        self,
        name: object,
        sums: Callable[[], Sums],
        held: Mapping[int, int],
        *,
        quiet: bool = False,
        lasting: bool = False,
    ) -> dict[int, int] | None:
        """A full assignment in which all sums together are greatest; what they do not ask is at rest.

        ``name`` is equal for equal sums; ``held`` are variables that must have a value; ``quiet`` prefers
        little else to be on; ``lasting`` leaves what springs back where it stays. None if they allow
        nothing.
        """
        memory = (name, tuple(held.items()), quiet, lasting)
        known = self._alike.heaviest
        if memory not in known:
            summands = dict(sums())
            asked = {v for scope in summands for v in scope} | held.keys()
            more = [self._only(held)]
            if quiet:
                parts = {self.parts.of_variable(variable) for variable in asked} | self.parts.restless
                more += [self._quiet[part] for part in sorted(parts) if part in self._quiet]
            for each in more:
                _add(summands, each)
            laws = self._laws(v for scope in summands for v in scope)
            if lasting:
                asked = {v for scope in (*summands, *(law.scope for law in laws)) for v in scope}
                _add(summands, {scope: own for scope, own in self.lasting.items() if scope[0] in asked})
            best = self._alike.search.heaviest(summands, laws)
            known[memory] = None if best is None else self._complete(best)
        return known[memory]

    def _only(self, values: Mapping[int, int]) -> Sums:
        """Sums that allow variables these values and no other."""
        return {
            (variable,): [0.0 if n == value else IMPOSSIBLE for n in range(self.sizes[variable])]
            for variable, value in values.items()
        }

    def _complete(self, found: dict[int, int]) -> dict[int, int]:
        """Everything else at rest, hidden variables in a state that lasts there."""
        touched = {n for v in found for n in self._tables_of.get(v, ())}
        for number in sorted(touched | self._stirring):
            table, hidden = self._hidden_of[number]
            if all(v in found for v in hidden):
                continue
            known = {v: found.get(v, 0) for v in table.scope if v in found or v not in hidden}
            own = self._alike.search.heaviest(self._only(known), [table])
            found |= own or dict.fromkeys(hidden, 0)
        return {variable: found[variable] for variable in sorted(found) if found[variable]}

    @cached_property
    def _tables_of(self) -> Mapping[int, Sequence[int]]:
        """By variable, the numbers of the tables of hidden variables that it stands in."""
        return _by_variable(enumerate(table.scope for table in self.together))

    @cached_property
    def _stirring(self) -> frozenset[int]:
        """The numbers of those tables that do not allow all to be at rest."""
        return frozenset(n for n, t in enumerate(self.together) if (0,) * len(t.scope) not in t.rows)

    @cached_property
    def _hidden_of(self) -> tuple[tuple[Table, tuple[int, ...]], ...]:
        """The tables of hidden variables, each with those of its variables that are hidden."""
        hidden = self.view.states.hidden
        return tuple((table, tuple(v for v in table.scope if v in hidden)) for table in self.together)

    def row_of(self, key: LoadKey, assignment: Assignment) -> Row:
        """The row of a load's table in a position."""
        return tuple([assignment.get(v, 0) for v in self.loads[key].scope])

    def full_at(self, assignment: Assignment) -> Iterator[LoadKey]:
        """Yield the loads that are meant to work fully in a position."""
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
        return (id(self._alike), *((key, id(table)) for key, table in self.loads.items()))

    def is_like(self, other: "Positions") -> bool:
        """Whether loads and hidden variables behave as in another loom, so that assignments mean the same."""
        return self is other or (self._alike is other._alike and self.loads == other.loads)

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

    def labels(self, assignment: Assignment) -> dict[str, str]:
        """An assignment as labels by name."""
        return self.view.position(assignment)


def _by_variable(scopes: Iterable[tuple[int, Sequence[int]]]) -> Mapping[int, Sequence[int]]:
    """By variable, the numbers of the scopes that it stands in."""
    found: dict[int, list[int]] = {}
    for number, scope in scopes:
        for variable in scope:
            found.setdefault(variable, []).append(number)
    return found


def _add(into: dict[Scope, list[float]], sums: Sums) -> None:
    for scope, own in sums.items():
        into[scope] = added(into[scope], own) if scope in into else own
