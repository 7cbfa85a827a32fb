"""The shortest exact condition for a set of positions.

A cube is packed into one integer, a bit for every value that it allows; a set of positions is one integer
too, a bit for every position, so that "does this cube touch a position where it must not hold" is one
``&``. What a cube may not touch gives the largest cubes (primes); branch and bound picks the shortest cover.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import prod
from typing import TypeAlias

Cube: TypeAlias = Mapping[str, tuple[str, ...]]
Spot: TypeAlias = tuple[int, ...]
Choice: TypeAlias = tuple[int, list[int]]

EXACT_POSITIONS = 4096
EXACT_PRIMES = 64
# Beyond these the work is cut short; the condition stays exact and is perhaps not the shortest.
_FAMILY, _CANDIDATES, _BRANCHES = 256, 512, 4000
# One number orders lengths by cubes, then literals, then values, then "not"; no count reaches the next step.
_CUBE, _LITERAL, _VALUE, _NOT = 1 << 60, 1 << 40, 1 << 20, 1


@dataclass(frozen=True)
class Condition:
    """When something is so: any of the cubes or, if negated, none of them.

    ``cubes`` is an OR of ANDs of "variable has one of these values"; no cube at all is never, an empty cube
    always. ``values`` are all values of every variable, rest first, which "not at off" needs to be said.
    """

    cubes: tuple[Cube, ...]
    negated: bool = False
    values: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def is_met(self, position: Mapping[str, str]) -> bool:
        """Whether it is so in this position."""
        met = any(all(position[name] in values for name, values in cube.items()) for cube in self.cubes)
        return met is not self.negated


def shortest_condition(
    variables: Mapping[str, tuple[str, ...]],
    holds: Collection[tuple[str, ...]],
    possible: Collection[tuple[str, ...]] | None = None,
) -> Condition:
    """Find the shortest condition that is met where something holds and in no other possible position.

    Parameters
    ----------
    variables
        The values of each variable, rest first.
    holds
        The positions in which it holds, each a tuple of values in the order of ``variables``.
    possible
        The positions that can occur, all if omitted; the condition may say anything of the others.

    Returns
    -------
    Condition
        Fewest cubes, then fewest literals, then fewest values ("not at off" counts one), then fewest "not".
        The negated form is given where it needs fewer literals or, with as many, at least two cubes less,
        or one cube and some values less. The order of ``holds`` and ``possible`` plays no part.

    Raises
    ------
    ValueError
        A position does not fit the variables.

    Notes
    -----
    Shortest up to ``EXACT_POSITIONS`` positions (all combinations of the variables that matter) and
    ``EXACT_PRIMES`` primes, unless the search for primes or for the cover runs into its own limit. Beyond
    that the cover is a greedy one: still exact as a condition, though perhaps not the shortest.
    """
    names, domains = list(variables), list(variables.values())
    on = _as_spots(variables, holds)
    everywhere = product(*(range(len(values)) for values in domains))
    off = (set(everywhere) if possible is None else _as_spots(variables, possible)) - on
    if not on or not off:
        return Condition(({},) if on else (), values=dict(variables))
    kept, on, off = _drop_idle(len(names), on, off)
    space = _Space([len(domains[number]) for number in kept], on, off)
    plain, opposite = (
        _shortest_cover(space, space.on, space.off),
        _shortest_cover(space, space.off, space.on),
    )
    negated = space.length(opposite, True) < space.length(plain, False)
    cubes = [space.literals(cube) for cube in (opposite if negated else plain)]
    cubes.sort(key=lambda cube: (len(cube), cube))
    return Condition(
        tuple(
            {names[kept[place]]: tuple(domains[kept[place]][v] for v in chosen) for place, chosen in cube}
            for cube in cubes
        ),
        negated,
        dict(variables),
    )


def _as_spots(variables: Mapping[str, tuple[str, ...]], positions: Collection[tuple[str, ...]]) -> set[Spot]:
    numbers = [{value: number for number, value in enumerate(values)} for values in variables.values()]
    try:
        return {
            tuple(of[value] for of, value in zip(numbers, position, strict=True)) for position in positions
        }
    except (KeyError, ValueError) as fault:
        declared = "; ".join(f"{name}: {', '.join(values)}" for name, values in variables.items())
        raise ValueError(f"a position does not fit the variables ({declared}): {fault}") from fault


def _drop_idle(count: int, on: set[Spot], off: set[Spot]) -> tuple[list[int], set[Spot], set[Spot]]:
    """Drop each variable one of whose values shows all there is to see: no cover gets longer without it."""
    kept = list(range(count))
    for place in reversed(range(count)):
        by_value: dict[int, tuple[set[Spot], set[Spot]]] = {}
        for side, spots in enumerate((on, off)):
            for spot in spots:
                rest = spot[:place] + spot[place + 1 :]
                by_value.setdefault(spot[place], (set(), set()))[side].add(rest)
        all_on = set().union(*(pair[0] for pair in by_value.values()))
        all_off = set().union(*(pair[1] for pair in by_value.values()))
        if any(len(a) == len(all_on) and len(b) == len(all_off) for a, b in by_value.values()):
            del kept[place]
            on, off = all_on, all_off
    return kept, on, off


class _Space:
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
        return _CUBE + sum(_literal_price(cube & whole, whole) for whole in self.fields)

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


def _literal_price(part: int, whole: int) -> int:
    if part == whole:
        return 0
    count = part.bit_count()
    if count > 1 and count == whole.bit_count() - 1:
        return _LITERAL + _VALUE + _NOT
    return _LITERAL + count * _VALUE


def _shortest_cover(space: _Space, wanted: int, barred: int) -> list[int]:
    """Cubes that cover all that is wanted and nothing that is barred."""
    rough = _grow_cover(space, wanted, barred)
    if not space.is_small:
        return rough
    # Primes may run over positions that cannot occur, so what bounds them must be barred through and through.
    bounds = _grow_cover(space, barred, space.everything & ~barred)
    primes = _find_primes(space, bounds, wanted) if len(bounds) <= _FAMILY else None
    if primes is None or len(primes) > EXACT_PRIMES:
        return rough
    candidates = {cube: space.covered(cube) & wanted for cube in _list_candidates(space, primes, wanted)}
    return _Choosing(candidates, space.price, wanted, rough).best[1]


def _grow_cover(space: _Space, wanted: int, barred: int) -> list[int]:
    """Cover greedily: enlarge the first position left over, by whole variables first, until none is left."""
    steps = [*reversed(space.fields), *(1 << bit for bit in range(sum(space.sizes)))]
    cubes: list[int] = []
    left = wanted
    while left:
        cube = space.cubes[(left & -left).bit_length() - 1]
        for step in steps:
            if step & ~cube and not space.covered(cube | step) & barred:
                cube |= step
        cubes.append(cube)
        left &= ~space.covered(cube)
    insides = {cube: space.covered(cube) & wanted for cube in cubes}
    for cube in sorted(cubes, key=space.price, reverse=True):
        others = 0
        for other, inside in insides.items():
            others |= inside if other != cube else 0
        if others == wanted:
            del insides[cube]
    return list(insides)


def _find_primes(space: _Space, bounds: list[int], wanted: int) -> list[int] | None:
    """All largest cubes that hold something wanted and touch no bound, or None if there are too many.

    Each bound is cut out of every cube that it meets, along each variable in turn; what lies inside
    another cube is then left out.
    """
    family = [space.universe]
    for bound in sorted(bounds, key=lambda cube: (-space.covered(cube).bit_count(), cube)):
        grown = [cube for cube in family if not space.meet(cube, bound)]
        pieces = {
            cube & ~(bound & whole)
            for cube in family
            if space.meet(cube, bound)
            for whole in space.fields
            if cube & whole & ~bound
        }
        for piece in sorted(pieces, key=lambda cube: (-cube.bit_count(), cube)):
            if space.covered(piece) & wanted and all(piece & ~other for other in grown):
                grown.append(piece)
        if len(grown) > _FAMILY:
            return None
        family = grown
    return sorted(family)


def _list_candidates(space: _Space, primes: list[int], wanted: int) -> list[int]:
    """The primes, and the parts of each that take as many literals but fewer values to say.

    A part keeps what only its prime covers: a second part of the same prime would be one cube too many.
    """
    once = twice = 0
    for prime in primes:
        inside = space.covered(prime)
        once, twice = once | inside, twice | once & inside
    found = dict.fromkeys(primes)
    for prime in primes:
        alone = space.covered(prime) & wanted & ~twice
        parts = [list(_smaller_literals(space, prime & whole, whole, alone)) for whole in space.fields]
        if len(found) + prod(map(len, parts)) <= _CANDIDATES:
            found.update(dict.fromkeys(map(sum, product(*parts))))
    return list(found)


def _smaller_literals(space: _Space, part: int, whole: int, alone: int) -> Iterator[int]:
    yield part
    needed = sum(bit for bit in _each_bit(part) if space.on_values(bit) & alone)
    spare = part & ~needed
    if part == whole or not spare or spare.bit_count() > _CANDIDATES.bit_length():
        return
    smaller = spare
    while smaller:
        smaller = (smaller - 1) & spare
        if needed | smaller and _literal_price(needed | smaller, whole) < _literal_price(part, whole):
            yield needed | smaller


def _each_bit(bits: int) -> Iterator[int]:
    while bits:
        yield bits & -bits
        bits &= bits - 1


class _Choosing:
    """Choose the cheapest cubes that cover everything, by branch and bound from a cover already known."""

    def __init__(
        self, candidates: Mapping[int, int], price: Callable[[int], int], wanted: int, rough: list[int]
    ) -> None:
        self.best: Choice = (sum(map(price, rough)), rough)
        self.branches = 0
        # The dearer of two cubes goes if it covers no more; equal ones go by number, for a fixed result.
        cubes: list[int] = []
        for cube in sorted(candidates, key=lambda cube: (price(cube), -candidates[cube].bit_count(), cube)):
            if all(candidates[cube] & ~candidates[other] for other in cubes):
                cubes.append(cube)
        self.cubes = cubes
        self.prices = [price(cube) for cube in cubes]
        # Positions that the same cubes cover are one row; a row goes if another one is harder to cover.
        rows = {wanted: 0}
        for number, cube in enumerate(cubes):
            split: dict[int, int] = {}
            for spots, covering in rows.items():
                inside = spots & candidates[cube]
                if inside:
                    split[inside] = covering | 1 << number
                if inside != spots:
                    split[spots ^ inside] = covering
            rows = split
        self.rows: list[int] = []
        for covering in sorted(set(rows.values()), key=lambda covering: (covering.bit_count(), covering)):
            if all(other & ~covering for other in self.rows):
                self.rows.append(covering)
        self._branch(self.rows, 0, [])

    def _branch(self, rows: list[int], spent: int, chosen: list[int]) -> None:
        self.branches += 1
        if not rows:
            if spent < self.best[0]:
                self.best = (spent, [self.cubes[number] for number in chosen])
            return
        if spent + self._least(rows) >= self.best[0] or self.branches > _BRANCHES:
            return
        narrowest = min(rows, key=int.bit_count)
        left = [bit.bit_length() - 1 for bit in _each_bit(narrowest)]
        left.sort(key=lambda number: (-sum(row >> number & 1 for row in rows), self.prices[number]))
        tried = 0
        for number in left:
            # What was tried first is out of the later branches, so no choice is looked at twice.
            rest = [row & ~tried for row in rows if not row >> number & 1]
            tried |= 1 << number
            if all(rest):
                self._branch(rest, spent + self.prices[number], [*chosen, number])

    def _least(self, rows: list[int]) -> int:
        """A price that is surely paid: rows without a cube in common need a cube each."""
        used = total = 0
        for row in sorted(rows, key=int.bit_count):
            if not row & used:
                used |= row
                total += self.prices[(row & -row).bit_length() - 1]
        return total
