"""The shortest exact condition, checked against brute force."""

import random
from collections.abc import Collection
from itertools import chain, combinations, product
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from positions import LAMP, VAN, Position, Variables, all_positions, where

from planner.proof import choosing, covering, cubes
from planner.proof.condition import Condition, shortest_condition


def is_exact(
    condition: Condition, variables: Variables, holds: Collection[Position], possible: Collection[Position]
) -> bool:
    return all(
        condition.is_met(dict(zip(variables, position, strict=True))) == (position in holds)
        for position in {*holds, *possible}
    )


def length(condition: Condition) -> tuple[int, int, int]:
    """Cubes, literals and values as counted by hand, from the condition alone."""
    literals = [(name, values) for cube in condition.cubes for name, values in cube.items()]
    counts = [1 if len(v) == len(condition.values[name]) - 1 else len(v) for name, v in literals]
    return len(condition.cubes), len(literals), sum(counts)


def brute_length(variables: Variables, holds: set[Position], barred: set[Position]) -> tuple[int, int, int]:
    """The least length over every choice of cubes, with no primes, no dominance and no bound."""
    subsets = [
        list(chain.from_iterable(combinations(values, n) for n in range(1, len(values) + 1)))
        for values in variables.values()
    ]
    cheapest: dict[frozenset[Position], tuple[int, int]] = {}
    for cube in product(*subsets):
        spots = set(product(*cube))
        if spots & barred or not spots & holds:
            continue
        pairs = [(c, v) for c, v in zip(cube, variables.values(), strict=True) if len(c) < len(v)]
        cost = (len(pairs), sum(1 if len(c) == len(v) - 1 else len(c) for c, v in pairs))
        key = frozenset(spots & holds)
        cheapest[key] = min(cost, cheapest.get(key, cost))
    reached: dict[frozenset[Position], tuple[int, int]] = {frozenset(): (0, 0)}
    for count in range(len(holds) + 1):
        if frozenset(holds) in reached:
            return count, *reached[frozenset(holds)]
        further: dict[frozenset[Position], tuple[int, int]] = {}
        for covered, (literals, values) in reached.items():
            for inside, (more, counted) in cheapest.items():
                cost = (literals + more, values + counted)
                key = covered | inside
                further[key] = min(cost, further.get(key, cost))
        reached = further
    raise AssertionError("every position is a cube of its own")


@st.composite
def cases(
    draw: st.DrawFn, sizes: st.SearchStrategy[list[int]]
) -> tuple[Variables, set[Position], set[Position]]:
    variables = {f"v{n}": tuple("abcdef"[:size]) for n, size in enumerate(draw(sizes))}
    # Drawn value by value, most spaces come out nearly uniform; a seed gives ones that are hard to cover.
    spread = random.Random(draw(st.integers(0, 2**32)))
    weights = [spread.random(), spread.random(), draw(st.sampled_from([0.0, 0.2, 0.8]))]
    marked = {position: spread.choices("+-?", weights)[0] for position in all_positions(variables)}
    holds = {position for position, kind in marked.items() if kind == "+"}
    return variables, holds, {position for position, kind in marked.items() if kind != "?"}


TINY = st.sampled_from([[4], [2, 2, 2], [4, 2], [3, 3], [2, 3, 2], [5, 2], [3, 4], [2, 2, 2, 2]])
SMALL = st.lists(st.integers(1, 4), min_size=0, max_size=4)


@given(cases(SMALL))
@settings(max_examples=150)
def test_condition_is_met_exactly_where_it_holds(
    case: tuple[Variables, set[Position], set[Position]],
) -> None:
    variables, holds, possible = case
    assert is_exact(shortest_condition(variables, holds, possible), variables, holds, possible)


@given(cases(TINY))
@settings(max_examples=150)
def test_no_condition_is_shorter(case: tuple[Variables, set[Position], set[Position]]) -> None:
    variables, holds, possible = case
    condition = shortest_condition(variables, holds, possible)
    lost = possible - holds
    if holds and lost:
        wanted, barred = (lost, holds) if condition.negated else (holds, lost)
        assert length(condition) == brute_length(variables, wanted, barred)


@given(cases(TINY))
@settings(max_examples=60)
def test_the_opposite_is_said_only_where_it_has_no_more_literals(
    case: tuple[Variables, set[Position], set[Position]],
) -> None:
    variables, holds, possible = case
    lost = possible - holds
    condition = shortest_condition(variables, holds, possible)
    if holds and lost:
        wanted, barred = (holds, lost) if condition.negated else (lost, holds)
        assert length(condition)[1] <= brute_length(variables, wanted, barred)[1]


@given(cases(SMALL), st.randoms(use_true_random=False))
@settings(max_examples=60)
def test_order_of_the_positions_plays_no_part(
    case: tuple[Variables, set[Position], set[Position]], shuffler: random.Random
) -> None:
    variables, holds, possible = case
    mixed_holds, mixed_possible = sorted(holds), sorted(possible)
    shuffler.shuffle(mixed_holds)
    shuffler.shuffle(mixed_possible)
    first = shortest_condition(variables, holds, possible)
    again = shortest_condition(variables, mixed_holds, mixed_possible)
    assert first == again
    assert [list(cube.items()) for cube in first.cubes] == [list(cube.items()) for cube in again.cubes]


@pytest.mark.parametrize(
    ("module", "limit"),
    [
        (cubes, "EXACT_POSITIONS"),
        (covering, "EXACT_PRIMES"),
        (covering, "_FAMILY"),
        (covering, "_CANDIDATES"),
        (choosing, "_BRANCHES"),
    ],
)
@given(case=cases(SMALL))
@settings(max_examples=30)
def test_condition_stays_exact_beyond_each_limit(
    module: ModuleType, limit: str, case: tuple[Variables, set[Position], set[Position]]
) -> None:
    variables, holds, possible = case
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, limit, 1)
        assert is_exact(shortest_condition(variables, holds, possible), variables, holds, possible)


@pytest.mark.parametrize(
    ("sizes", "marks", "shortest"),
    [
        ([2, 2, 2], "+?+?+??-", (1, 1, 1)),  # a cube that runs over positions that cannot occur
        ([4, 2], "+-+-??-+", (2, 4, 4)),
        ([4, 2], "----+-++", (2, 3, 3)),  # a value that the other cube has already
        ([2, 5], "++?-+-?--+", (2, 3, 3)),
    ],
)
def test_known_hard_space_is_said_at_its_shortest(
    sizes: list[int], marks: str, shortest: tuple[int, int, int]
) -> None:
    variables = {f"v{n}": tuple("abcde"[:size]) for n, size in enumerate(sizes)}
    marked = dict(zip(all_positions(variables), marks, strict=True))
    holds = {position for position, mark in marked.items() if mark == "+"}
    condition = shortest_condition(variables, holds, {p for p, mark in marked.items() if mark != "?"})
    assert length(condition) == shortest


@given(cases(SMALL))
@settings(max_examples=100)
def test_greedy_cover_has_no_cube_to_spare(case: tuple[Variables, set[Position], set[Position]]) -> None:
    variables, holds, possible = case
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(cubes, "EXACT_POSITIONS", 1)
        condition = shortest_condition(variables, holds, possible)
    for left_out in condition.cubes:
        fewer = Condition(tuple(cube for cube in condition.cubes if cube != left_out), condition.negated)
        assert not is_exact(fewer, variables, holds, possible)


def test_idle_variables_are_not_mentioned() -> None:
    condition = shortest_condition(VAN, where(VAN, "v[3] == 'on' and v[6] == 'pressed'"))
    assert condition.cubes == ({LAMP: ("on",), "brake pedal": ("pressed",)},)


def test_a_position_that_does_not_fit_is_refused_with_what_would() -> None:
    with pytest.raises(ValueError, match=r"fit the variables \(fuel: empty, full\): 'half'"):
        shortest_condition({"fuel": ("empty", "full")}, {("half",)})
    with pytest.raises(ValueError, match="does not fit"):
        shortest_condition({"fuel": ("empty", "full")}, {("full", "full")})


def test_condition_over_the_whole_van_is_short_and_exact() -> None:
    claim = "v[3] == 'on' and v[4] == v[5] or v[0] != 'off' and v[2] == 'left' and v[6] == 'pressed'"
    holds = where(VAN, f"{claim} or v[1] == 'start' and v[7] == 'full'")
    condition = shortest_condition(VAN, holds)
    assert len(condition.cubes) == 4
    assert is_exact(condition, VAN, holds, all_positions(VAN))
