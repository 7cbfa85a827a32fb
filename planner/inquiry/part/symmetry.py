"""Terminals of a part that can change places without a meter finding any difference."""

from collections.abc import Collection, Iterable, Iterator
from itertools import combinations, product

from planner.inquiry.part.bench_view import BenchView

Exchange = tuple[tuple[int, int], ...]  # terminals, by their numbers, that change places all at once


def exchanges(view: BenchView) -> tuple[Exchange, ...]:
    """Single exchanges of two terminals, and double ones such as both ends of two like fuses.

    Only terminals that are connected alike, by wire or by mounting, are exchanged.
    """
    size = len(view.marks)
    by = [view.part.terminals[mark].by for mark in view.marks]
    shape = [_shape(view, number) for number in range(size)]
    like = [(a, b) for a, b in combinations(range(size), 2) if by[a] == by[b] and shape[a] == shape[b]]
    single = [pair for pair in like if _is_symmetry(view, (pair,))]
    left = [pair for pair in like if pair not in single]
    double = [(one, other) for one, other in _disjoint(left) if _is_symmetry(view, (one, other))]
    return (*((pair,) for pair in single), *double)


def orbits(candidates: Iterable[int], used: Collection[int], known: Iterable[Exchange]) -> list[list[int]]:
    """Candidates in groups that exchanges lead into one another, with what is used left where it is."""
    free = [exchange for exchange in known if not any(n in used for pair in exchange for n in pair)]
    groups = {candidate: [candidate] for candidate in candidates}
    for exchange in free:
        for a, b in exchange:
            if a in groups and b in groups and groups[a] is not groups[b]:
                groups[a] += groups[b]
                groups |= dict.fromkeys(groups[b], groups[a])
    found: dict[int, list[int]] = {id(group): group for group in groups.values()}
    return [sorted(group) for group in found.values()]


def alike_marks(view: BenchView) -> dict[str, tuple[str, ...]]:
    """For each mark all that it can change places with, itself among them, when others move along."""
    known = exchanges(view)
    groups = orbits(range(len(view.marks)), (), known)
    return {
        view.marks[number]: tuple(view.marks[other] for other in group)
        for group in groups
        for number in group
    }


def _shape(view: BenchView, number: int) -> object:
    """What a terminal has to all others in each setting, whichever these are."""
    return [(sorted(alike.ohms[number]), sorted(row[number] for row in alike.ohms)) for alike in view.alike]


def _disjoint(pairs: Collection[tuple[int, int]]) -> Iterator[tuple[tuple[int, int], tuple[int, int]]]:
    for (a, b), (c, d) in combinations(pairs, 2):
        if len({a, b, c, d}) == 4:
            yield (a, b), (c, d)


def _is_symmetry(view: BenchView, exchange: Exchange) -> bool:
    size = len(view.marks)
    to = list(range(size))
    for a, b in exchange:
        to[a], to[b] = b, a
    moved = [number for number in range(size) if to[number] != number]
    return all(
        alike.ohms[a][b] == alike.ohms[to[a]][to[b]] and alike.ohms[b][a] == alike.ohms[to[b]][to[a]]
        for alike in view.alike
        for a, b in product(moved, range(size))
    )
