"""Colours as people write them."""

import pytest

from planner.model.wording import COLOUR_WORDS, colour_words
from planner.reading.colour_codes import code_in_heading
from planner.reading.colour_words import TypedColour, read_colour, read_legs
from planner.reading.typed_values import NotUnderstood


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("BK/RD", "BK/RD"),
        ("bk-rd", "BK/RD"),
        ("BKRD", "BK/RD"),
        ("GNYE", "GNYE"),
        ("green-and-yellow", "GNYE"),
        ("black", "BK"),
        ("Gray", "GY"),
        ("slate", "GY"),
        ("purple", "VT"),
        ("black with red tracer", "BK/RD"),
        ("Black with a red stripe", "BK/RD"),
        ("black/red", "BK/RD"),
        ("BLK-RED", "BK/RD"),
        ("red on black", "BK/RD"),
        ("RD with WH tracer", "RD/WH"),
        ("N", "BN"),
        ("U/W", "BU/WH"),
        ("UW", "BU/WH"),
        ("sw/rt", "BK/RD"),
        ("G/R", "GN/RD"),
    ],
)
def test_a_colour_is_read_as_its_iec_code(typed: str, code: str) -> None:
    assert read_colour(typed) == TypedColour(code)


@pytest.mark.parametrize("code", [*COLOUR_WORDS, "BK/RD", "GN/YE"])
def test_a_code_and_its_words_are_the_same_colour(code: str) -> None:
    assert read_colour(code) == read_colour(colour_words(code)) == TypedColour(code)


@pytest.mark.parametrize(
    ("typed", "said", "try_"),
    [
        ("GR", "green/red or grey", "GN/RD or GY, or the code in the heading"),
        ("B", "black or blue or brown", "BK or BU or BN"),
        ("BR", "black/red or brown", "BK/RD or BN"),
        ("P", "violet or pink", "VT or PK"),
        ("LG", "green or blue/green", "colour (British or Japanese)"),
        ("green and yellow", "the earth conductor's", "GN/YE or GNYE"),
        ("red, blue", "may be one colour with a tracer, or two colours", "RD/BU or RD or BU"),
        ("GN/", "ends before its tracer", "a colour such as"),
        ("=RED()", "what does '=' mean", "a colour such as"),
        ("balck", "no colour is called 'balck'", "black"),
        ("khaki", "no colour is called 'khaki'", "a colour such as"),
        ("black red white", "names 3 colours", "a colour such as"),
        ("", "no colour is given", "a colour such as"),
        ("?", "names no colour", "a colour such as"),
        ("14", "names no colour", "a colour such as"),
        ("ditto", "no colour is called 'ditto'", "a colour such as"),
    ],
)
def test_a_colour_that_is_not_sure_is_asked(typed: str, said: str, try_: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        read_colour(typed)
    assert said in caught.value.message and try_ in caught.value.hint


def test_a_heading_that_names_the_code_settles_what_letters_mean() -> None:
    british, german = code_in_heading("Colour (BS AU 7)"), code_in_heading("colour, DIN")
    assert (british, german, code_in_heading("wire colour")) == ("British", "German", None)
    assert read_colour("GR", british) == TypedColour("GN/RD")
    assert read_colour("BN", british) == TypedColour("BK/BN")
    assert read_colour("GR", german) == TypedColour("GY")
    assert read_colour("black", british) == TypedColour("BK")


def test_of_two_possible_colours_the_first_is_kept_and_both_are_noted() -> None:
    assert read_colour("green or blue w. white, faded") == TypedColour(
        "GN/WH", "green or blue w. white, faded", True, ("BU/WH",)
    )
    assert read_colour("brown or red, faded") == TypedColour("BN", "brown or red, faded", True, ("RD",))
    assert read_colour("brown (was red?)") == TypedColour("BN", "brown (was red?)", True, ("RD",))
    assert read_colour("BN or RD") == TypedColour("BN", "BN or RD", True, ("RD",))


@pytest.mark.parametrize(("text", "code"), [("tan", "BN"), ("tan/blue", "BN/BU"), ("lavender", "VT")])
def test_a_colour_without_a_code_is_the_nearest_with_its_word_noted(text: str, code: str) -> None:
    read = read_colour(text)
    assert (read.code, read.note, read.is_doubtful) == (code, text, False)


def test_what_the_code_cannot_say_is_noted() -> None:
    assert read_colour("light green with black tracer") == TypedColour(
        "GN/BK", "light green with black tracer", False
    )
    assert read_colour("faded brown") == TypedColour("BN", "faded brown", False)
    assert read_colour("LG", "British") == TypedColour("GN", "LG (light green)", False)


def test_legs_of_different_colour_are_told_apart() -> None:
    assert read_legs("black/red; brown") == read_legs("black/red then brown") == ["black/red", "brown"]
    assert (read_legs(""), read_legs("red;")) == ([""], ["red", ""])
