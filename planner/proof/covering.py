"""The shortest cover: cubes that hold wherever something is wanted, and nowhere that is barred.

What a cube may not touch gives the largest cubes (primes); branch and bound picks the shortest cover.
"""

from collections.abc import Iterator
from itertools import product
from math import prod

from planner.proof.choosing import Choosing
from planner.proof.cubes import Space, each_bit, literal_price

EXACT_PRIMES = 64
_FAMILY, _CANDIDATES = 256, 512  # beyond these the cover is the greedy one, perhaps not the shortest


def shortest_cover(space: Space, wanted: int, barred: int) -> list[int]:
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
    return Choosing(candidates, space.price, wanted, rough).best[1]


def _grow_cover(space: Space, wanted: int, barred: int) -> list[int]:
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


def _find_primes(space: Space, bounds: list[int], wanted: int) -> list[int] | None:
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


def _list_candidates(space: Space, primes: list[int], wanted: int) -> list[int]:
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


def _smaller_literals(space: Space, part: int, whole: int, alone: int) -> Iterator[int]:
    yield part
    needed = sum(bit for bit in each_bit(part) if space.on_values(bit) & alone)
    spare = part & ~needed
    if part == whole or not spare or spare.bit_count() > _CANDIDATES.bit_length():
        return
    smaller = spare
    while smaller:
        smaller = (smaller - 1) & spare
        if needed | smaller and literal_price(needed | smaller, whole) < literal_price(part, whole):
            yield needed | smaller
