"""Nodes eliminated level by level, also in two goes, against the same equations solved as a matrix."""

import random

import numpy as np
import pytest

from planner.currents.levels import Levels, Sums, total

POINTS = 7


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
    gone = outer.take_out(siemens, pushed)
    rest = {node: n for n, node in enumerate(outer.rest)}
    edges = [(one, other) for one, other in outer.place if {one, other} <= rest.keys()]
    inner = Levels(len(rest), [(rest[one], rest[other]) for one, other in edges], [rest[0]])
    last = inner.take_out(gone.siemens[[outer.place[edge] for edge in edges]], gone.pushed[outer.rest])
    solved, joined = np.zeros(pushed.shape), np.zeros(pushed.shape)
    among, reached = np.zeros((len(rest), POINTS)), np.zeros((len(rest), POINTS))
    inner.put_back(among, last)
    reached[rest[0]] = 1.0
    inner.reach(reached, last)
    solved[outer.rest], joined[outer.rest] = among, reached
    outer.put_back(solved, gone)
    outer.reach(joined, gone)
    assert (solved[0] == 0.0).all() and joined.all()
    for point in range(POINTS):
        matrix = np.zeros((nodes, nodes))
        for (a, b), own in zip(pairs, siemens[:, point], strict=True):
            matrix[[a, b], [a, b]] += own
            matrix[[a, b], [b, a]] -= own
        volts = np.linalg.solve(matrix[1:, 1:], pushed[1:, point])
        assert solved[1:, point] == pytest.approx(volts, rel=1e-8)


def test_what_nothing_joins_to_the_node_that_is_kept_is_not_joined() -> None:
    levels = Levels(5, [(0, 1), (1, 2), (3, 4)], [0])
    siemens = np.array([[1.0, 1.0], [1.0, 0.0], [1.0, 1.0]])
    joined = np.zeros((5, 2))
    joined[0] = 1.0
    levels.reach(joined, levels.take_out(siemens, np.zeros((5, 2))))
    assert joined.T.tolist() == [[1, 1, 1, 0, 0], [1, 1, 0, 0, 0]]


def test_who_has_most_neighbours_when_its_turn_comes_stays() -> None:
    spokes = [(0, spoke) for spoke in range(1, 6)]
    rim = [(spoke, spoke % 5 + 1) for spoke in range(1, 6)]
    assert Levels(6, spokes, [], most=5).rest == []  # spoke by spoke the hub loses its neighbours
    assert Levels(6, [*spokes, *((min(p), max(p)) for p in rim)], [], most=3).rest == [0, 1, 2, 3, 4, 5]


def test_rows_are_added_by_the_place_they_belong_to() -> None:
    into = np.ones((4, 2))
    Sums([2, 0, 2, 2]).add(into, np.array([[1.0, 2.0], [3.0, 4.0], [5.0, 6.0], [7.0, 8.0]]))
    assert into.tolist() == [[4.0, 5.0], [1.0, 1.0], [14.0, 17.0], [1.0, 1.0]]


def test_a_sum_has_the_same_digits_whatever_stands_beside_it() -> None:
    rows = np.array([[[10 ** random.Random(n).uniform(-9, 9)] * 3] for n in range(31)])
    assert total(rows)[0].tolist() == [float(total(rows[:, :, :1])[0, 0])] * 3
