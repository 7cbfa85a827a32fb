"""The sentences said for conditions."""

import doctest
from collections.abc import Mapping

import pytest
from positions import DOORS, LAMP, TITLES, VAN, WIPER, where

from planner.proof import words
from planner.proof.condition import Condition, shortest_condition
from planner.proof.words import say


def test_a_value_that_cannot_occur_is_not_mentioned() -> None:
    variables = {"ignition": ("off", "on", "start")}
    assert say(shortest_condition(variables, {("on",)}, {("on",), ("off",)})) == "with ignition on"


def test_a_value_that_cannot_occur_is_included_where_that_is_shorter() -> None:
    possible = {("off",), ("slow",), ("fast",)}
    condition = shortest_condition({WIPER: VAN[WIPER]}, {("slow",), ("fast",)}, possible)
    assert say(condition, TITLES) == "with the wiper switch not at off"


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
