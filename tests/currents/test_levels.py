"""Nodes eliminated level by level, also in two goes, against the same equations solved as a matrix."""

import random

import numpy as np
import pytest

from planner.currents.curves import Array
from planner.currents.elimination import Elimination
from planner.currents.levels import Levels

POINTS = 7


def rows_of(levels: Elimination, siemens: Array, pushed: Array) -> Array:
    """The rows that an elimination begins with."""
    rows = np.zeros((levels.height, siemens.shape[1]))
    rows[: levels.nodes] = pushed
    rows[levels.nodes + 1 : levels.nodes + 1 + len(siemens)] = siemens
    return rows


@pytest.mark.parametrize("seed", range(40))
def test_volts_are_those_of_the_matrix(seed: int) -> None:
    draw = random.Random(seed)
    nodes = draw.randint(2, 14)
    every = [(a, b) for a in range(nodes) for b in range(a + 1, nodes)]
    chain = [(node, node + 1) for node in range(nodes - 1)]
    pairs = list(dict.fromkeys([*chain, *draw.sample(every, draw.randint(0, len(every)))]))
    siemens = np.array([[10 ** draw.uniform(-3, 3) for _ in range(POINTS)] for _ in pairs])
    pushed = np.array([[draw.uniform(-5, 5) for _ in range(POINTS)] for _ in range(nodes)])
    outer = Levels(nodes, pairs, [0], most=draw.choice([2, 3, nodes + 1]))
    goes = outer.planned()
    rows = rows_of(goes, siemens, pushed)
    gone = goes.take_out(rows)
    rest = {node: n for n, node in enumerate(outer.rest)}
    edges = [(one, other) for one, other in outer.place if {one, other} <= rest.keys()]
    inner = Levels(len(rest), [(rest[one], rest[other]) for one, other in edges], [rest[0]]).planned()
    left = rows_of(inner, rows[[outer.place[edge] for edge in edges]], rows[outer.rest])
    last = inner.take_out(left)
    solved, joined = np.zeros((nodes + 1, POINTS)), np.zeros((nodes + 1, POINTS))
    among, reached = np.zeros((len(rest) + 1, POINTS)), np.zeros((len(rest) + 1, POINTS))
    among[-1] = solved[-1] = reached[rest[0]] = 1.0
    inner.put_back(among, last)
    inner.reach(reached, last)
    solved[outer.rest], joined[outer.rest] = among[:-1], reached[:-1]
    goes.put_back(solved, gone)
    goes.reach(joined, gone)
    assert (solved[0] == 0.0).all() and joined[:-1].all()
    for point in range(POINTS):
        matrix = np.zeros((nodes, nodes))
        for (a, b), own in zip(pairs, siemens[:, point], strict=True):
            matrix[[a, b], [a, b]] += own
            matrix[[a, b], [b, a]] -= own
        volts = np.linalg.solve(matrix[1:, 1:], pushed[1:, point])
        assert solved[1:-1, point] == pytest.approx(volts, rel=1e-8)


def test_what_nothing_joins_to_the_node_that_is_kept_is_not_joined() -> None:
    levels = Levels(5, [(0, 1), (1, 2), (3, 4)], [0]).planned()
    siemens = np.array([[1.0, 1.0], [1.0, 0.0], [1.0, 1.0]])
    joined = np.zeros((6, 2))
    joined[0] = 1.0
    levels.reach(joined, levels.take_out(rows_of(levels, siemens, np.zeros((5, 2)))))
    assert joined[:-1].T.tolist() == [[1, 1, 1, 0, 0], [1, 1, 0, 0, 0]]


def test_who_has_most_neighbours_when_its_turn_comes_stays() -> None:
    spokes = [(0, spoke) for spoke in range(1, 6)]
    rim = [(spoke, spoke % 5 + 1) for spoke in range(1, 6)]
    assert Levels(6, spokes, [], most=5).rest == []  # spoke by spoke the hub loses its neighbours
    assert Levels(6, [*spokes, *((min(p), max(p)) for p in rim)], [], most=3).rest == [0, 1, 2, 3, 4, 5]
