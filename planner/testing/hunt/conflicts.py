"""Sets that cannot all be so, and the least sets that meet every one of them.

Nothing here knows of vehicles. Of a table that says which candidate agrees with which statement, a conflict
is a least set of statements that no candidate agrees with at once: one of them must be wrong. A diagnosis is
a least set of statements to give up so that a candidate agrees with all others: it meets every conflict.
"""

from collections.abc import Iterable, Sequence
from itertools import combinations

Found = list[frozenset[int]]


def conflicts(agrees: Sequence[Sequence[bool]], most: int = 3) -> Found:
    """The conflicts with up to so many statements, smallest first; a row for each candidate."""
    rows = {frozenset(n for n, fits in enumerate(row) if fits) for row in agrees}
    statements = range(len(agrees[0]) if agrees else 0)
    found: Found = []
    for size in range(1, most + 1):
        for some in map(frozenset, combinations(statements, size)):
            if not any(smaller <= some for smaller in found) and not any(some <= row for row in rows):
                found.append(some)
    return found


def diagnoses(agrees: Sequence[Sequence[bool]]) -> Found:
    """The least sets of statements to give up, smallest first; a row for each candidate."""
    missed = {frozenset(n for n, fits in enumerate(row) if not fits) for row in agrees}
    return sorted(least(missed), key=lambda each: (len(each), sorted(each)))


def least(sets: Iterable[frozenset[int]]) -> set[frozenset[int]]:
    """Those of some sets that hold no other of them."""
    kept: list[frozenset[int]] = []
    for each in sorted(set(sets), key=len):
        if not any(smaller <= each for smaller in kept):
            kept.append(each)
    return set(kept)
