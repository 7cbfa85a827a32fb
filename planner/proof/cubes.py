"""Cubes and positions as integers, and what a cube costs to say.

A cube is packed into one integer, a bit for every value that it allows; a set of positions is one integer
too, a bit for every position, so that "does this cube touch a position where it must not hold" is one ``&``.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from math import prod
from typing import TypeAlias

Spot: TypeAlias = tuple[int, ...]

EXACT_POSITIONS = 4096
# One number orders lengths by cubes, then literals, then values, then "not"; no count reaches the next step.
_CUBE, _LITERAL, _VALUE, _NOT = 1 << 60, 1 << 40, 1 << 20, 1


class Space:
    """The variables that matter, with the positions on each value as bits."""

    def __init__(self, sizes: list[int], on: set[Spot], off: set[Spot]) -> None:
        self.is_small = prod(sizes) <= EXACT_POSITIONS
        spots: list[Spot] = list(product(*map(range, sizes))) if self.is_small else sorted(on | off)
        self.starts = [sum(sizes[:place]) for place in range(len(sizes))]
        self.fields = [((1 << size) - 1) << start for size, start in zip(sizes, self.starts, strict=True)]
        self.sizes = sizes
        self.everything = (1 << len(spots)) - 1
        self.universe = sum(self.fields)
        self.cubes = [sum(1 << s + v for s, v in zip(self.starts, spot, strict=True)) for spot in spots]
        self.on, self.off = _as_bits(spot in on for spot in spots), _as_bits(spot in off for spot in spots)
        self._on_values = {
            1 << start + value: _as_bits(spot[place] == value for spot in spots)
            for place, start in enumerate(self.starts)
            for value in range(sizes[place])
        }

    def covered(self, cube: int) -> int:
        """The positions inside a cube."""
        inside = self.everything
        for whole in self.fields:
            part = cube & whole
            if part != whole:
                inside &= self.on_values(part)
        return inside

    def on_values(self, part: int) -> int:
        """The positions on any of these values of one variable."""
        if part not in self._on_values:
            lowest = part & -part
            self._on_values[part] = self._on_values[lowest] | self.on_values(part ^ lowest)
        return self._on_values[part]

    def meet(self, one: int, other: int) -> bool:
        """Whether two cubes have a position in common."""
        both = one & other
        return all(both & whole for whole in self.fields)

    def price(self, cube: int) -> int:
        """What a cube costs to say."""
        return _CUBE + sum(literal_price(cube & whole, whole) for whole in self.fields)

    def length(self, cubes: Sequence[int], is_negated: bool) -> tuple[int, int, int]:
        """How long a sentence gets: literals, cubes ("except" is as hard to read as one more), values."""
        total = sum(self.price(cube) for cube in cubes)
        return total % _CUBE // _LITERAL, len(cubes) + is_negated, total % _LITERAL // _VALUE

    def literals(self, cube: int) -> list[tuple[int, tuple[int, ...]]]:
        """A cube as (variable, values), without those that leave everything open."""
        return [
            (place, tuple(v for v in range(size) if cube >> start + v & 1))
            for place, (start, size) in enumerate(zip(self.starts, self.sizes, strict=True))
            if cube & self.fields[place] != self.fields[place]
        ]


def _as_bits(claims: Iterable[bool]) -> int:
    return int("".join("1" if claim else "0" for claim in claims)[::-1], 2)


def literal_price(part: int, whole: int) -> int:
    """What it costs to say that a variable has one of the values in ``part``, out of ``whole``."""
    if part == whole:
        return 0
    count = part.bit_count()
    if count > 1 and count == whole.bit_count() - 1:
        return _LITERAL + _VALUE + _NOT
    return _LITERAL + count * _VALUE


def each_bit(bits: int) -> Iterator[int]:
    """Yield every bit that is set, the lowest first."""
    while bits:
        yield bits & -bits
        bits &= bits - 1
