"""Rows added up by the place they belong to, in the same order whatever stands beside them."""

import random

import numpy as np

from planner.currents.rows import Sums, total


def test_rows_are_added_by_the_place_they_belong_to() -> None:
    into = np.ones((4, 2))
    Sums([2, 0, 2, 2]).add(into, np.array([[1.0, 2.0], [3.0, 4.0], [5.0, 6.0], [7.0, 8.0]]))
    assert into.tolist() == [[4.0, 5.0], [1.0, 1.0], [14.0, 17.0], [1.0, 1.0]]


def test_of_what_is_true_or_false_the_sum_is_whether_any_is() -> None:
    into = np.zeros((3, 2), dtype=bool)
    Sums([1, 1, 0]).add(into, np.array([[True, False], [True, False], [False, False]]))
    assert into.tolist() == [[False, False], [True, False], [False, False]]


def test_a_sum_has_the_same_digits_whatever_stands_beside_it() -> None:
    rows = np.array([[[10 ** random.Random(n).uniform(-9, 9)] * 3] for n in range(31)])
    assert total(rows)[0].tolist() == [float(total(rows[:, :, :1])[0, 0])] * 3
    sums, places = (np.zeros((2, width)) for width in (3, 1)), [n % 2 for n in range(31)]
    many, one = sums
    Sums(places).add(many, rows[:, 0])
    Sums(places).add(one, rows[:, 0, :1])
    assert many.tolist() == [[float(own)] * 3 for own in one[:, 0]]
