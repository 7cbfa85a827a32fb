"""Numbers for every setting of a few variables: what the search for the heaviest position adds up."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from math import inf

Row = tuple[int, ...]
Scope = tuple[int, ...]
Sizes = Mapping[int, int]
# By scope a number for every setting of its variables, the last one counting fastest; -inf: it cannot be.
Sums = Mapping[Scope, list[float]]
IMPOSSIBLE = -inf


@dataclass(frozen=True, slots=True)
class Table:
    """A number for each setting of some variables; as a law, a setting that is missing cannot be."""

    scope: Scope
    rows: Mapping[Row, float]


def every_row(scope: Scope, sizes: Sizes) -> Iterator[Row]:
    """Yield every setting of some variables, in the order that sums have their numbers in."""
    return product(*(range(sizes[variable]) for variable in scope))


def added(one: list[float], other: list[float]) -> list[float]:
    """The sums of two lists, number by number."""
    return [a + b for a, b in zip(one, other, strict=True)]
