"""The heaviest setting found variable by variable is the one that trying every setting finds."""

import random
from itertools import product

from planner.currents.heaviest import Search
from planner.currents.sums import IMPOSSIBLE, Sums, Table, every_row

TRIES = 300


def drawn(draw: random.Random) -> tuple[dict[int, int], list[Table]]:
    """Variables with their sizes, and a law or two that some of them obey."""
    sizes = {variable: draw.randint(1, 3) for variable in range(draw.randint(1, 6))}
    laws = []
    for _ in range(draw.randint(0, 2)):
        scope = tuple(sorted(draw.sample(list(sizes), min(len(sizes), draw.randint(1, 3)))))
        laws.append(Table(scope, {row: 0.0 for row in every_row(scope, sizes) if draw.random() < 0.7}))
    return sizes, laws


def sums_of(draw: random.Random, sizes: dict[int, int], scopes: list[tuple[int, ...]]) -> Sums:
    """Whole numbers, so that there are ties, and now and then one that cannot be."""
    return {
        scope: [
            IMPOSSIBLE if draw.random() < 0.1 else float(draw.randint(-2, 2)) for _ in every_row(scope, sizes)
        ]
        for scope in scopes
    }


def total(sums: Sums, laws: list[Table], sizes: dict[int, int], setting: dict[int, int]) -> float:
    """The sum in a setting, by looking each number up."""
    if any(tuple(setting[v] for v in law.scope) not in law.rows for law in laws):
        return IMPOSSIBLE
    return sum(
        numbers[list(every_row(scope, sizes)).index(tuple(setting[v] for v in scope))]
        for scope, numbers in sums.items()
    )


def test_the_sum_found_is_the_greatest_of_all_settings() -> None:
    possible = 0
    for seed in range(TRIES):
        draw = random.Random(seed)
        sizes, laws = drawn(draw)
        some = [tuple(sorted(draw.sample(list(sizes), min(len(sizes), n)))) for n in (1, 2, 3)]
        scopes = list(dict.fromkeys(some))
        asked = {v for scope in (*scopes, *(law.scope for law in laws)) for v in scope}
        search = Search(sizes)
        for _ in range(2):  # what was worked out for the first numbers serves the second
            sums = sums_of(draw, sizes, scopes)
            found = search.heaviest(sums, laws)
            every = [
                dict(zip(sizes, values, strict=True))
                for values in product(*(range(n) for n in sizes.values()))
            ]
            most = max(total(sums, laws, sizes, setting) for setting in every)
            if found is None:
                assert most == IMPOSSIBLE
                continue
            possible += 1
            assert set(found) == asked
            assert total(sums, laws, sizes, dict.fromkeys(sizes, 0) | found) == most
    assert possible > TRIES


def test_of_equal_settings_everything_stays_at_rest() -> None:
    search = Search({0: 3, 1: 2})
    assert search.heaviest({(0, 1): [1.0] * 6}, []) == {0: 0, 1: 0}
    assert search.heaviest({(0, 1): [0.0, 0.0, 1.0, 1.0, 1.0, 1.0]}, []) == {0: 1, 1: 0}
    assert search.heaviest({(0,): [IMPOSSIBLE] * 3, (1,): [0.0, 0.0]}, []) is None
