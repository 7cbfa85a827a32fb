"""The shortest exact condition for a set of positions."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from itertools import product
from typing import TypeAlias

from planner.proof.covering import shortest_cover
from planner.proof.cubes import Space, Spot

Cube: TypeAlias = Mapping[str, tuple[str, ...]]


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
    Shortest up to ``cubes.EXACT_POSITIONS`` positions (all combinations of the variables that matter) and
    ``covering.EXACT_PRIMES`` primes, unless the search for primes or for the cover runs into its own limit.
    Beyond that the cover is a greedy one: still exact as a condition, though perhaps not the shortest.
    """
    names, domains = list(variables), list(variables.values())
    on = _as_spots(variables, holds)
    everywhere = product(*(range(len(values)) for values in domains))
    off = (set(everywhere) if possible is None else _as_spots(variables, possible)) - on
    if not on or not off:
        return Condition(({},) if on else (), values=dict(variables))
    kept, on, off = _drop_idle(len(names), on, off)
    space = Space([len(domains[number]) for number in kept], on, off)
    plain, opposite = (
        shortest_cover(space, space.on, space.off),
        shortest_cover(space, space.off, space.on),
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
