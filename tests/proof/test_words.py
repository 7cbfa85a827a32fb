"""The shortest exact condition, checked against brute force, and the sentences said for it."""

import doctest
import random
from collections.abc import Collection, Mapping
from itertools import chain, combinations, product
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.proof import words
from planner.proof.words import Condition, say, shortest_condition

Variables = Mapping[str, tuple[str, ...]]
Position = tuple[str, ...]

LAMP, WIPER, TURN = "roof.lamp/lamp", "dash.wiper-switch/wiper", "column.turn-switch/turn"
DOORS: Variables = {LAMP: ("off", "on"), "left door": ("shut", "open"), "right door": ("shut", "open")}
TITLES = {LAMP: "the lamp switch", WIPER: "the wiper switch", TURN: "the turn switch"}
VAN: Variables = {
    WIPER: ("off", "slow", "fast", "intermittent"),
    "ignition": ("off", "on", "start"),
    TURN: ("straight", "left", "right"),
    LAMP: ("off", "on"),
    "left door": ("shut", "open"),
    "right door": ("shut", "open"),
    "brake pedal": ("free", "pressed"),
    "fuel": ("empty", "half", "full"),
}


def all_positions(variables: Variables) -> list[Position]:
    return list(product(*variables.values()))


def where(variables: Variables, claim: str) -> set[Position]:
    """Positions in which a claim over the values (as ``v``, by place) is true."""
    return {v for v in all_positions(variables) if eval(claim, {"v": v})}


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
@settings(max_examples=150, deadline=None)
def test_condition_is_met_exactly_where_it_holds(
    case: tuple[Variables, set[Position], set[Position]],
) -> None:
    variables, holds, possible = case
    assert is_exact(shortest_condition(variables, holds, possible), variables, holds, possible)


@given(cases(TINY))
@settings(max_examples=150, deadline=None)
def test_no_condition_is_shorter(case: tuple[Variables, set[Position], set[Position]]) -> None:
    variables, holds, possible = case
    condition = shortest_condition(variables, holds, possible)
    lost = possible - holds
    if holds and lost:
        wanted, barred = (lost, holds) if condition.negated else (holds, lost)
        assert length(condition) == brute_length(variables, wanted, barred)


@given(cases(TINY))
@settings(max_examples=60, deadline=None)
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
@settings(max_examples=60, deadline=None)
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


@pytest.mark.parametrize("limit", ["EXACT_POSITIONS", "EXACT_PRIMES", "_FAMILY", "_CANDIDATES", "_BRANCHES"])
@given(case=cases(SMALL))
@settings(max_examples=30, deadline=None)
def test_condition_stays_exact_beyond_each_limit(
    limit: str, case: tuple[Variables, set[Position], set[Position]]
) -> None:
    variables, holds, possible = case
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(words, limit, 1)
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
@settings(max_examples=100, deadline=None)
def test_greedy_cover_has_no_cube_to_spare(case: tuple[Variables, set[Position], set[Position]]) -> None:
    variables, holds, possible = case
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(words, "EXACT_POSITIONS", 1)
        condition = shortest_condition(variables, holds, possible)
    for left_out in condition.cubes:
        fewer = Condition(tuple(cube for cube in condition.cubes if cube != left_out), condition.negated)
        assert not is_exact(fewer, variables, holds, possible)


def test_idle_variables_are_not_mentioned() -> None:
    condition = shortest_condition(VAN, where(VAN, "v[3] == 'on' and v[6] == 'pressed'"))
    assert condition.cubes == ({LAMP: ("on",), "brake pedal": ("pressed",)},)


def test_a_value_that_cannot_occur_is_not_mentioned() -> None:
    variables = {"ignition": ("off", "on", "start")}
    assert say(shortest_condition(variables, {("on",)}, {("on",), ("off",)})) == "with ignition on"


def test_a_value_that_cannot_occur_is_included_where_that_is_shorter() -> None:
    possible = {("off",), ("slow",), ("fast",)}
    condition = shortest_condition({WIPER: VAN[WIPER]}, {("slow",), ("fast",)}, possible)
    assert say(condition, TITLES) == "with the wiper switch not at off"


def test_a_position_that_does_not_fit_is_refused_with_what_would() -> None:
    with pytest.raises(ValueError, match=r"fit the variables \(fuel: empty, full\): 'half'"):
        shortest_condition({"fuel": ("empty", "full")}, {("half",)})
    with pytest.raises(ValueError, match="does not fit"):
        shortest_condition({"fuel": ("empty", "full")}, {("full", "full")})


@pytest.mark.parametrize(
    ("claim", "sentence"),
    [
        ("True", "always"),
        ("False", "never"),
        ("v[3] == 'on'", "with the lamp switch on"),
        ("v[0] == 'fast'", "with the wiper switch at fast"),
        ("v[0] in ('slow', 'fast')", "with the wiper switch at slow or fast"),
        ("v[0] != 'off'", "with the wiper switch not at off"),
        ("v[1] != 'off'", "with ignition not at off"),
        ("v[6] == 'pressed'", "with brake pedal pressed"),
        ("v[4] == v[5] == 'open'", "with both doors open"),
        ("v[7] != 'empty'", "with fuel not at empty"),
        ("v[3] == 'on' and v[4] == 'shut'", "with the lamp switch on while left door is shut"),
        ("v[3] == 'on' and v[4] == v[5] == 'shut'", "with the lamp switch on while both doors are shut"),
        ("v[3] == 'off' or v[4] == 'open' or v[5] == 'open'",
         "except with the lamp switch on while both doors are shut"),
        ("v[3] == 'off' or v[4] == 'open'", "with the lamp switch off or left door open"),
        ("v[0] in ('slow', 'fast') or v[3] == 'on'",
         "with the wiper switch at (slow or fast) or the lamp switch on"),
        ("v[0] == 'fast' and v[2] == 'left' and v[3] == 'on'",
         "with the wiper switch at fast, the turn switch at left and the lamp switch on"),
        ("v[0] in ('slow', 'fast') and v[3] == 'on'",
         "with the wiper switch at (slow or fast) and the lamp switch on"),
        ("v[0] in ('slow', 'fast') and v[6] == 'pressed'",
         "with the wiper switch at slow or fast while brake pedal is pressed"),
        ("v[3] == 'on' and v[4] == 'open' or v[0] == 'fast'",
         "with the wiper switch at fast; or with the lamp switch on while left door is open"),
        ("not (v[0] == 'fast' and v[3] == 'on' or v[2] == 'left' and v[1] == 'on')",
         "except with the wiper switch at fast and the lamp switch on; "
         "and except with the turn switch at left while ignition is on"),
        ("not (v[2] == 'left' and v[0] in ('slow', 'fast') and v[6] == 'pressed' and v[1] == 'start')",
         "except with the wiper switch at (slow or fast) and the turn switch at left "
         "while ignition is at start and brake pedal is pressed"),
    ],
)  # fmt: skip
def test_sentence_is_what_a_restorer_would_say(claim: str, sentence: str) -> None:
    assert say(shortest_condition(VAN, where(VAN, claim)), TITLES) == sentence


@pytest.mark.parametrize(
    ("cube", "sentence"),
    [
        ({"left door": ("shut",), "right door": ("open",)}, "with left door shut and right door open"),
        ({"engine": ("cranking", "running")}, "with engine not stopped"),
        ({"engine": ("running",), LAMP: ("on",)}, f"with {LAMP} on while engine is running"),
        ({"headlamps": ("on",), LAMP: ("on",)}, f"with {LAMP} on while headlamps are on"),
        ({"bay.relay/armature": ("pulled",)}, "with bay.relay/armature pulled"),
    ],
)
def test_single_cube_is_said(cube: Mapping[str, tuple[str, ...]], sentence: str) -> None:
    values = {"engine": ("stopped", "cranking", "running"), "headlamps": ("off", "on")}
    assert say(Condition((cube,), values={**VAN, **values})) == sentence


def test_both_is_not_said_where_there_is_a_third() -> None:
    variables = {**DOORS, "rear door": ("shut", "open")}
    condition = shortest_condition(variables, where(variables, "v[1] == v[2] == 'open'"))
    assert say(condition) == "with left door open and right door open"


def test_both_is_not_said_of_words_that_have_nothing_else() -> None:
    cube = {"left": ("shut",), "right": ("shut",)}
    values = {"left": ("shut", "open"), "right": ("shut", "open")}
    assert say(Condition((cube,), values=values)) == "with left shut and right shut"


def test_unlike_names_of_one_length_are_not_paired() -> None:
    cube = {"rear door": ("shut",), "left flap": ("shut",)}
    condition = Condition((cube,), values=dict.fromkeys(cube, ("shut", "open")))
    assert say(condition) == "with rear door shut and left flap shut"


def test_examples_in_the_docstrings_are_true() -> None:
    failed, attempted = doctest.testmod(words)
    assert (failed, attempted > 0) == (0, True)


def test_both_takes_titles_with_an_article() -> None:
    titles = {"left door": "the left front switch", "right door": "the right front switch"}
    condition = shortest_condition(DOORS, where(DOORS, "v[0] == 'on' and v[1] == v[2] == 'shut'"))
    assert say(condition, TITLES | titles) == "with the lamp switch on while both front switches are shut"


def test_several_exceptions_to_one_variable_each_are_listed_with_or() -> None:
    condition = Condition(({LAMP: ("on",)}, {"left door": ("open",)}), True, DOORS)
    assert say(condition, TITLES) == "except with the lamp switch on or left door open"


def test_negated_extremes_are_said_as_what_they_are() -> None:
    assert say(Condition((), negated=True)) == "always"
    assert say(Condition(({},), negated=True)) == "never"


def test_meanings_replace_labels_and_equal_ones_are_said_once() -> None:
    variables = {WIPER: ("0", "I", "II", "III")}
    condition = shortest_condition(variables, {("I",), ("II",)})
    assert (
        say(condition, TITLES, {WIPER: {"I": "slow", "II": "fast"}})
        == "with the wiper switch at slow or fast"
    )
    assert say(condition, TITLES, {WIPER: {"I": "slow", "II": "slow"}}) == "with the wiper switch at slow"


def test_whole_van_is_put_into_words_in_time() -> None:
    claim = "v[3] == 'on' and v[4] == v[5] or v[0] != 'off' and v[2] == 'left' and v[6] == 'pressed'"
    holds = where(VAN, f"{claim} or v[1] == 'start' and v[7] == 'full'")
    started = perf_counter()
    condition = shortest_condition(VAN, holds)
    # The aim is 0.3 s for 1,728 positions; here are 3,456, with slack for a busy machine.
    assert perf_counter() - started < 1.5
    assert len(condition.cubes) == 4
    assert is_exact(condition, VAN, holds, all_positions(VAN))
