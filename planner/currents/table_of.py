"""The table of one load: its amps for each setting of what it hangs on, or only of what counts.

A lamp between two nets that each carry many loads hangs on all their switches: the charge lamp of an
alternator that turns while the ignition is off. Tens of thousands of settings are then one part of the loom,
and every search would go through all of them. Such a table tells apart only what makes a difference where the
load takes most; all else is at rest in it.
"""

from collections.abc import Mapping
from math import prod

from planner.circuit.tree import Function
from planner.currents.sums import Sizes, Table, every_row

MOST_ROWS = 1000  # of a load's table; in a loom without such a lamp a load has some tens
LEAST_SPREAD = 1e-6  # amps


def table_of(function: Function, sizes: Sizes) -> Table:
    """Amps of a load, without sign, for every setting of its scope."""
    scope = tuple(sorted(function.support))
    if prod(sizes[variable] for variable in scope) > MOST_ROWS:
        scope = _what_counts(function, sizes)
    rest = dict.fromkeys(function.support, 0)
    return Table(
        scope,
        {row: _amps(function, rest | dict(zip(scope, row, strict=True))) for row in every_row(scope, sizes)},
    )


def amps_at(function: Function, assignment: Mapping[int, int]) -> float:
    """Amps of a load, without sign, in a position; what that leaves out is at rest."""
    return _amps(function, {variable: assignment.get(variable, 0) for variable in function.support})


def _amps(function: Function, assignment: Mapping[int, int]) -> float:
    amps = function.at(assignment)
    assert isinstance(amps, float)
    return abs(amps)


def _what_counts(function: Function, sizes: Sizes) -> tuple[int, ...]:
    """The variables that move most where the load takes most, as many as a table may have."""
    most = _most(function)
    spread = {}
    for variable in function.support:
        amps = [_amps(function, most | {variable: value}) for value in range(sizes[variable])]
        spread[variable] = max(amps) - min(amps)
    kept: list[int] = []
    rows = 1
    for variable in sorted(spread, key=lambda v: (-spread[v], v)):
        if spread[variable] <= LEAST_SPREAD or rows * sizes[variable] > MOST_ROWS:
            break
        kept.append(variable)
        rows *= sizes[variable]
    return tuple(sorted(kept))


def _most(function: Function) -> dict[int, int]:
    """The position in which a load takes most, at rest as far as that goes."""
    known: dict[int, float] = {}

    def best(node: Function) -> float:
        if id(node) not in known:
            if node.variable < 0:
                assert isinstance(node.value, float)
                known[id(node)] = abs(node.value)
            else:
                known[id(node)] = max(map(best, node.children))
        return known[id(node)]

    found = dict.fromkeys(function.support, 0)
    node = function
    while node.variable >= 0:
        value = max(range(len(node.children)), key=lambda n: (best(node.children[n]), -n))
        found[node.variable] = value
        node = node.children[value]
    return found
