"""The position in which a sum is greatest, found without trying them all: variable by variable.

A sum over loads falls apart as the circuit does: each summand asks a few variables only. One variable after
another is maximised away (its best value is noted for every setting of its neighbours), and at the end the
notes are read backwards. Exact, whatever the number of positions.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import prod

Row = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A summand: a number for each setting of some variables; a setting that is missing cannot be."""

    scope: tuple[int, ...]
    rows: Mapping[Row, float]


Scope = tuple[int, ...]
Orders = dict[frozenset[Scope], list[int]]  # in which to take variables out, for the scopes of some tables


def maximise(
    tables: Sequence[Table], sizes: Mapping[int, int], orders: Orders | None = None
) -> dict[int, int] | None:
    """The setting of all variables of the tables for which their sum is greatest; None if none can be.

    Of equal settings the one with the lower values is taken, so that what does not matter stays at rest.
    ``orders`` remembers the orders found before, for the same sizes.
    """
    waiting = merged(tables)
    scopes = frozenset(waiting)
    order = orders.get(scopes) if orders is not None else None
    if order is None:
        order = _order(scopes, sizes)
        if orders is not None:
            orders[scopes] = order
    notes: list[tuple[int, Scope, dict[Row, int]]] = []
    for variable in order:
        own = [waiting.pop(scope) for scope in [scope for scope in waiting if variable in scope]]
        best, note = _eliminate(_join(own), variable)
        notes.append((variable, best.scope, note))
        _put(waiting, best)
    if any(not table.rows for table in waiting.values()):
        return None
    found: dict[int, int] = {}
    for variable, scope, note in reversed(notes):
        found[variable] = note[tuple(found[v] for v in scope)]
    return found


def _order(scopes: Iterable[Scope], sizes: Mapping[int, int]) -> list[int]:
    """Variables in the order in which taking them out joins the smallest tables."""
    near: dict[int, set[int]] = {}  # what each variable shares a table with
    for scope in scopes:
        for variable in scope:
            near.setdefault(variable, set()).update(scope)
    weight = {variable: prod(sizes[v] for v in around) for variable, around in near.items()}
    order = []
    while near:
        variable = min(near, key=lambda v: (weight[v], v))
        order.append(variable)
        around = near.pop(variable) - {variable}
        for other in around:
            near[other] = (near[other] | around) - {variable}
            weight[other] = prod(sizes[v] for v in near[other])
    return order


def merged(tables: Iterable[Table]) -> dict[tuple[int, ...], Table]:
    """Tables of the same variables added into one, by their scope."""
    by_scope: dict[tuple[int, ...], Table] = {}
    for table in tables:
        _put(by_scope, table)
    return by_scope


def _put(by_scope: dict[tuple[int, ...], Table], table: Table) -> None:
    """Put a table to the others, added to the one of the same variables if there is one."""
    there = by_scope.get(table.scope)
    if there is None:
        by_scope[table.scope] = table
        return
    rows = {row: there.rows[row] + number for row, number in table.rows.items() if row in there.rows}
    by_scope[table.scope] = Table(table.scope, rows)


def _join(tables: Sequence[Table]) -> Table:
    """The sum of some tables, over the settings that all of them allow."""
    first, *others = sorted(tables, key=lambda table: len(table.rows))
    for other in others:
        shared = [v for v in first.scope if v in other.scope]
        new = [v for v in other.scope if v not in first.scope]
        at = [other.scope.index(v) for v in shared]
        rest = [other.scope.index(v) for v in new]
        by_shared: dict[Row, list[tuple[Row, float]]] = {}
        for row, number in other.rows.items():
            by_shared.setdefault(tuple(row[i] for i in at), []).append((tuple(row[i] for i in rest), number))
        here = [first.scope.index(v) for v in shared]
        rows = {
            row + more: number + extra
            for row, number in first.rows.items()
            for more, extra in by_shared.get(tuple(row[i] for i in here), ())
        }
        first = Table(first.scope + tuple(new), rows)
    return first


def _eliminate(table: Table, variable: int) -> tuple[Table, dict[Row, int]]:
    """A table with one variable at its best value, and which that is for each setting of the others."""
    at = table.scope.index(variable)
    best: dict[Row, float] = {}
    note: dict[Row, int] = {}
    for row in sorted(table.rows):
        number = table.rows[row]
        others = row[:at] + row[at + 1 :]
        if others not in best or number > best[others] + 1e-12:
            best[others], note[others] = number, row[at]
    return Table(table.scope[:at] + table.scope[at + 1 :], best), note
