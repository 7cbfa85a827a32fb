"""A second method for operating points: exact fractions, joints merged first, every diode pattern tried.

Written independently of the solver: the solver keeps joints as unknowns and turns one diode after another;
here joined nodes are one node, and all ways in which diodes can conduct are gone through.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from planner.circuit.operating_point import Element


@dataclass
class Exact:
    """Voltage of each node that something determines, and current of each resistance and diode."""

    volts: dict[int, Fraction]
    amps: dict[int, Fraction]  # element number: amps; joints are left out


def solve_exactly(elements: Sequence[Element], fixed: dict[int, float]) -> list[Exact]:
    """Every consistent solution, one for each pattern of conducting diodes that holds."""
    diodes = [i for i, e in enumerate(elements) if e.drop_v is not None]
    found = []
    for pattern in product((False, True), repeat=len(diodes)):
        on = dict(zip(diodes, pattern, strict=True))
        exact = _with_pattern(elements, {n: Fraction(v) for n, v in fixed.items()}, on)
        if exact is not None and _holds(elements, exact, on):
            found.append(exact)
    return found


def _with_pattern(
    elements: Sequence[Element], fixed: dict[int, Fraction], on: dict[int, bool]
) -> Exact | None:
    root = _merged(elements)
    held = {root[n]: v for n, v in fixed.items() if n in root}
    carries = [i for i, e in enumerate(elements) if (e.ohms or e.drop_v is not None) and on.get(i, True)]
    reached = _reached(elements, carries, root, set(held))
    nodes = sorted(reached - set(held))
    sources = [i for i in carries if not elements[i].ohms and root[elements[i].a] in reached]
    size = len(nodes) + len(sources)
    column = {node: k for k, node in enumerate(nodes)}
    rows = [[Fraction(0)] * (size + 1) for _ in range(size)]
    for i in carries:
        e = elements[i]
        a, b, drop = root[e.a], root[e.b], Fraction(e.drop_v or 0)
        if a == b or a not in reached:
            continue
        if i in sources:
            k = len(nodes) + sources.index(i)
            rows[k][-1] += drop
            for node, sign in ((a, 1), (b, -1)):
                if node in column:
                    rows[column[node]][k] += sign
                    rows[k][column[node]] += sign
                else:
                    rows[k][-1] -= sign * held[node]
            continue
        siemens = 1 / Fraction(e.ohms)
        for here, there, sign in ((a, b, 1), (b, a, -1)):
            if here in column:
                row = rows[column[here]]
                row[column[here]] += siemens
                row[-1] += sign * siemens * drop
                if there in column:
                    row[column[there]] -= siemens
                else:
                    row[-1] += siemens * held[there]
    values = _gauss(rows)
    if values is None:
        return None
    volts = held | {node: values[k] for node, k in column.items()}
    amps = dict.fromkeys((i for i, e in enumerate(elements) if e.ohms or e.drop_v is not None), Fraction(0))
    for i in carries:
        e = elements[i]
        a, b = root[e.a], root[e.b]
        if a in reached and a != b:
            if i in sources:
                amps[i] = values[len(nodes) + sources.index(i)]
            else:
                amps[i] = (volts[a] - volts[b] - Fraction(e.drop_v or 0)) / Fraction(e.ohms)
    return Exact({n: volts[root[n]] for n in root if root[n] in volts}, amps)


def _holds(elements: Sequence[Element], exact: Exact, on: dict[int, bool]) -> bool:
    """Conducting diodes carry forward; blocked ones can be given voltages that keep them blocked.

    What floats may have any voltage, but not below what pushes into it: the pushes must not end uphill.
    """
    if any(exact.amps[i] < 0 for i, conducts in on.items() if conducts):
        return False
    pushes = []
    for i, e in enumerate(elements):
        drop = Fraction(e.drop_v or 0)
        pushes.append((e.a, e.b, drop))
        if on.get(i, True):
            pushes.append((e.b, e.a, -drop))
    least = dict(exact.volts)
    for _ in range(len(elements) + 2):
        changed = False
        for source, target, drop in pushes:
            if source not in least or (source in exact.volts and target in exact.volts):
                continue
            level = least[source] - drop
            if target in exact.volts:
                if level > exact.volts[target]:
                    return False
            elif target not in least or level > least[target]:
                least[target] = level
                changed = True
        if not changed:
            break
    else:
        return False
    return all(
        exact.volts[e.a] - exact.volts[e.b] <= Fraction(e.drop_v or 0)
        for i, e in enumerate(elements)
        if not on.get(i, True) and e.a in exact.volts and e.b in exact.volts
    )


def _merged(elements: Sequence[Element]) -> dict[int, int]:
    root: dict[int, int] = {}
    for e in elements:
        root.setdefault(e.a, e.a)
        root.setdefault(e.b, e.b)
    for e in elements:
        if e.drop_v is None and not e.ohms and root[e.a] != root[e.b]:
            keep, gone = sorted((root[e.a], root[e.b]))  # poles are 0 and below and stay the roots
            root = {n: keep if r == gone else r for n, r in root.items()}
    return root


def _reached(
    elements: Sequence[Element], live: Sequence[int], root: dict[int, int], held: set[int]
) -> set[int]:
    reached = set(held)
    grown = True
    while grown:
        grown = False
        for i in live:
            pair = {root[elements[i].a], root[elements[i].b]}
            if pair & reached and not pair <= reached:
                reached |= pair
                grown = True
    return reached


def _gauss(rows: list[list[Fraction]]) -> list[Fraction] | None:
    """The solution; None if there is none or more than one."""
    size = len(rows)
    for k in range(size):
        pivot = next((r for r in range(k, size) if rows[r][k]), None)
        if pivot is None:
            return None
        rows[k], rows[pivot] = rows[pivot], rows[k]
        for r in range(size):
            if r != k and rows[r][k]:
                factor = rows[r][k] / rows[k][k]
                rows[r] = [x - factor * y for x, y in zip(rows[r], rows[k], strict=True)]
    return [rows[k][-1] / rows[k][k] for k in range(size)]
