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


def numbers(found: Sequence[int]) -> Numbers:
    """Some places or nodes as numpy takes them."""
    return np.array(found, dtype=np.intp)


def total(rows: Array) -> Array:
    """The sum over the first axis, one after another: the order of numpy's own depends on the shape."""
    found: Array = rows[0].copy()
    for row in rows[1:]:
        found += row
    return found


class Sums:
    """Adds rows of an array to those of another, by the place that each belongs to.

    ``order`` is the order in which ``add_sorted`` wants the rows: the first of each place, those places that
    have most coming first, then the second of each that has one, and so on.
    """

    def __init__(self, places: Sequence[int]) -> None:
        rows_of: dict[int, list[int]] = {}
        for row, place in enumerate(places):
            rows_of.setdefault(place, []).append(row)
        kept = sorted(rows_of.items(), key=lambda each: -len(each[1]))
        self.places = numbers([place for place, _ in kept])
        layers: list[list[int]] = [[] for _ in range(max(map(len, rows_of.values()), default=0))]
        for _, rows in kept:
            for layer, row in zip(layers, rows, strict=False):
                layer.append(row)
        self.order = numbers([row for layer in layers for row in layer])
        self.sizes = [len(layer) for layer in layers]

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
