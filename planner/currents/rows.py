"""Rows of numbers added up by the place that each belongs to; a column for each operating point.

Every sum is made in one order, whatever stands beside it, so that a point has the same digits however many
are solved with it.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array

Numbers = NDArray[np.intp]
Mask = NDArray[np.bool_]


def numbers(found: Sequence[int] | Numbers) -> Numbers:
    """Some places or nodes as numpy takes them."""
    return np.array(found, dtype=np.intp)


def total(rows: Array) -> Array:
    """The sum over the first axis, one after another: the order of numpy's own depends on the shape."""
    found: Array = rows[0].copy()
    for row in rows[1:]:
        found += row
    return found


def renumbered(kept: Mask) -> Numbers:
    """The numbers that what is kept gets, in order; all that is not gets the one after the last."""
    found: Numbers = np.cumsum(kept) - 1
    found[~kept] = np.count_nonzero(kept)
    return found


class Sums:
    """Adds rows of an array to those of another, by the place in ``of`` that each belongs to.

    ``order`` is the order in which ``add_sorted`` wants the rows: the first of each place, those places that
    have most coming first, then the second of each that has one, and so on.
    """

    def __init__(self, of: Sequence[int] | Numbers) -> None:
        self.of = numbers(of)
        by_place = np.argsort(self.of, kind="stable")
        places, first, counts = np.unique(self.of[by_place], return_index=True, return_counts=True)
        turns = np.arange(len(by_place)) - np.repeat(first, counts)  # how many of its place come before it
        ranked = np.argsort(-counts, kind="stable")
        rank = np.empty(len(places), dtype=np.intp)
        rank[ranked] = np.arange(len(places))
        self.places = places[ranked]
        self.order = by_place[np.lexsort((np.repeat(rank, counts), turns))]
        self.sizes: list[int] = np.bincount(turns).tolist()

    def add(self, into: NDArray[Any], rows: NDArray[Any]) -> None:
        """Add what comes together."""
        self.add_sorted(into, rows.take(self.order, axis=0))

    def add_sorted(self, into: NDArray[Any], rows: NDArray[Any]) -> None:
        """Add what comes together; the rows stand in ``order`` and are used up."""
        at = first = len(self.places)
        for size in self.sizes[1:]:
            rows[:size] += rows[at : at + size]
            at += size
        into[self.places] += rows[:first]
