"""One operating point: the currents of a block in which every contact is settled.

Equations
---------
Modified nodal analysis. Unknowns are the voltages of the free nodes and the currents of exact joints
(fuses between free nodes, conducting diodes). For each free node the currents leaving it sum to zero; for
each joint ``v(a) - v(b) = drop``. Current counts positive into an element's first terminal. SI units.
Diodes are assumed blocked, then the worst offenders are turned until none offends.
"""

from collections.abc import Sequence
from dataclasses import dataclass

# A pivot below this means an undetermined unknown; conductances here are 1e-6 to 1e3 S.
PIVOT_FLOOR = 1e-12
# A diode is turned only if it offends by more than this (volts, amps), so that ties do not flip for ever.
DIODE_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Element:
    """Ohms between two nodes; with ``drop_v`` not None only from ``a`` to ``b``. A joint has 0 ohms."""

    a: int
    b: int
    ohms: float
    drop_v: float | None


@dataclass(frozen=True, slots=True)
class Solution:
    """Currents of the elements in order, and voltages of the free nodes that something determines."""

    amps: tuple[float, ...]
    volts: dict[int, float]
    settled: bool


def solve(elements: Sequence[Element], fixed: dict[int, float]) -> Solution:
    """Solve one operating point.

    Parameters
    ----------
    elements
        Resistances, joints and diodes between node numbers.
    fixed
        Voltages of the nodes that a pole holds.

    Returns
    -------
    Solution
        ``settled`` is False if no combination of blocked and conducting diodes satisfies all of them.

    Notes
    -----
    Nodes that nothing joins to a fixed node carry no current and get no voltage; they are found by
    connectivity, not as a singular matrix.
    """
    conducting = [element.drop_v is None for element in elements]
    diodes = [i for i, element in enumerate(elements) if element.drop_v is not None]
    for _ in range(4 * len(diodes) + 8):
        amps, volts = _linear(elements, conducting, fixed)
        blocked = [i for i in diodes if not conducting[i]]
        turn, offence = _pushed_open(elements, blocked, conducting, fixed | volts)
        for i in diodes:
            if conducting[i] and -amps[i] > offence:
                turn, offence = (i,), -amps[i]
        if not turn:
            return Solution(tuple(amps), volts, True)
        for i in turn:
            conducting[i] = not conducting[i]
    return Solution(tuple(amps), volts, False)


def _pushed_open(
    elements: Sequence[Element], blocked: Sequence[int], conducting: Sequence[bool], known: dict[int, float]
) -> tuple[tuple[int, ...], float]:
    """The blocked diodes that the highest voltage would push open together, and by how many volts.

    What blocked diodes cut off has no voltage of its own, but cannot stay below what pushes into it: so the
    push goes on through it to the next diode (two in series, a bridge), until it meets a known voltage.
    """
    island = _islands([elements[i] for i in range(len(elements)) if conducting[i]], known)
    pushed: dict[int, tuple[float, tuple[int, ...]]] = {}
    worst: tuple[int, ...] = ()
    offence = DIODE_TOLERANCE
    changed = True
    while changed:
        changed = False
        for i in blocked:
            a, b = elements[i].a, elements[i].b
            start = (known[a], ()) if a in known else pushed.get(island.get(a, a))
            if start is None:
                continue
            level, through = start[0] - (elements[i].drop_v or 0.0), (*start[1], i)
            if b in known:
                if level - known[b] > offence:
                    worst, offence = through, level - known[b]
                continue
            home = island.get(b, b)
            if home not in pushed or level > pushed[home][0] + DIODE_TOLERANCE:
                pushed[home] = (level, through)
                changed = True
    return worst, offence


def _islands(live: Sequence[Element], known: dict[int, float]) -> dict[int, int]:
    """For each node without a voltage, one node of the island that live elements make of it."""
    parent: dict[int, int] = {}

    def find(node: int) -> int:
        while (up := parent.setdefault(node, node)) != node:
            node = up
        return node

    for element in live:
        if element.a not in known and element.b not in known:
            parent[find(element.a)] = find(element.b)
    return {node: find(node) for node in list(parent)}


def _linear(
    elements: Sequence[Element], conducting: Sequence[bool], fixed: dict[int, float]
) -> tuple[list[float], dict[int, float]]:
    live = [i for i, element in enumerate(elements) if conducting[i] and element.a != element.b]
    reached = _reached(elements, live, fixed)
    nodes = sorted(n for n in reached if n not in fixed)
    column = {node: index for index, node in enumerate(nodes)}
    usable = [i for i in live if elements[i].a in reached]
    joints = [i for i in usable if elements[i].ohms == 0.0]
    size = len(nodes) + len(joints)
    rows = [[0.0] * (size + 1) for _ in range(size)]
    for i in usable:
        if elements[i].ohms > 0.0:
            _stamp_resistance(rows, elements[i], column, fixed)
    for offset, i in enumerate(joints):
        _stamp_joint(rows, len(nodes) + offset, elements[i], column, fixed)
    solution = _eliminate(rows)
    volts = {node: solution[index] for node, index in column.items()}
    amps = [0.0] * len(elements)
    for i in usable:
        element = elements[i]
        if element.ohms > 0.0:
            va = fixed[element.a] if element.a in fixed else volts[element.a]
            vb = fixed[element.b] if element.b in fixed else volts[element.b]
            amps[i] = (va - vb - (element.drop_v or 0.0)) / element.ohms
    for offset, i in enumerate(joints):
        amps[i] = solution[len(nodes) + offset]
    return amps, volts


def _reached(elements: Sequence[Element], live: Sequence[int], fixed: dict[int, float]) -> set[int]:
    """Nodes joined to a fixed node by live elements."""
    neighbours: dict[int, list[int]] = {}
    for i in live:
        a, b = elements[i].a, elements[i].b
        neighbours.setdefault(a, []).append(b)
        neighbours.setdefault(b, []).append(a)
    reached: set[int] = set()
    stack = [n for n in neighbours if n in fixed]
    while stack:
        node = stack.pop()
        if node in reached:
            continue
        reached.add(node)
        stack.extend(n for n in neighbours[node] if n not in reached)
    return reached


def _stamp_resistance(
    rows: list[list[float]], element: Element, column: dict[int, int], fixed: dict[int, float]
) -> None:
    siemens = 1.0 / element.ohms
    offset = siemens * (element.drop_v or 0.0)
    for here, there, sign in ((element.a, element.b, 1.0), (element.b, element.a, -1.0)):
        if here in column:
            row = rows[column[here]]
            row[column[here]] += siemens
            if there in column:
                row[column[there]] -= siemens
            else:
                row[-1] += siemens * fixed[there]
            row[-1] += sign * offset


def _stamp_joint(
    rows: list[list[float]], index: int, element: Element, column: dict[int, int], fixed: dict[int, float]
) -> None:
    rows[index][-1] += element.drop_v or 0.0
    for node, sign in ((element.a, 1.0), (element.b, -1.0)):
        if node in column:
            rows[column[node]][index] += sign
            rows[index][column[node]] += sign
        else:
            rows[index][-1] -= sign * fixed[node]


def _eliminate(rows: list[list[float]]) -> list[float]:
    """Gaussian elimination with partial pivoting; an undetermined unknown (a loop of joints) gets 0."""
    size = len(rows)
    for k in range(size):
        pivot = max(range(k, size), key=lambda r: abs(rows[r][k]))
        rows[k], rows[pivot] = rows[pivot], rows[k]
        row = rows[k]
        if abs(row[k]) < PIVOT_FLOOR:
            continue
        for other in rows[k + 1 :]:
            if other[k]:
                factor = other[k] / row[k]
                for j in range(k, size + 1):
                    other[j] -= factor * row[j]
    out = [0.0] * size
    for k in range(size - 1, -1, -1):
        row = rows[k]
        if abs(row[k]) >= PIVOT_FLOOR:
            out[k] = (row[size] - sum(row[j] * out[j] for j in range(k + 1, size))) / row[k]
    return out
