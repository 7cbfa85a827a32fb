"""What people call a colour, a wire end and a terminal."""

import pytest

from planner.model.loom import COLOUR_PATTERN, Loom, Wire
from planner.model.wording import COLOUR_WORDS, address_words, colour_words, small, wire_words

LOOM = Loom.model_validate(
    {
        "loom": "tiny",
        "supply": {"volts": 12, "earthed": "negative"},
        "zones": {"dash": {"title": "dashboard, left"}, "bay": {}},
        "places": {"dash.lamps": {"part": "switch", "zone": "dash", "title": "lighting switch, dash"}},
    }
)


@pytest.mark.parametrize(
    ("code", "words"), [("BK", "black"), ("BK/RD", "black/red"), ("GNYE", "green-and-yellow"), ("XX", "XX")]
)
def test_a_colour_code_is_said_in_words(code: str, words: str) -> None:
    assert colour_words(code) == words


def test_every_colour_a_loom_may_use_has_a_word() -> None:
    codes = set(COLOUR_PATTERN.replace("(", "|").replace(")", "|").strip("^$").split("|")) - {"", "/", "?"}
    assert {code for code in codes if code.isalpha()} == set(COLOUR_WORDS)


def test_a_wire_is_named_by_the_colour_seen_at_the_end() -> None:
    wire = Wire.model_validate(
        {"wire": "W1", "colour": ["BK", "BK/RD"], "mm2": 1, "metres": 1, "ends": ["loose", "loose", "loose"]}
    )
    assert [wire_words(wire, end) for end in (0, 1, 2)] == [
        "the black wire",
        "the black wire",
        "the black/red wire",
    ]


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("dash.lamps:58", "58 on the lighting switch, dash"),
        ("bay.horn:1", "1 on the bay.horn"),
        ("earth", "earth"),
        ("earth:dash", "earth, dashboard, left"),
        ("earth:bay", "earth, bay"),
        ("feed:main", "the feed main"),
        ("joint:a", "the joiner a"),
        ("loose", "loose"),
    ],
)
def test_an_address_is_said_by_mark_and_title(address: str, words: str) -> None:
    assert address_words(LOOM, address) == words


@pytest.mark.parametrize(
    ("title", "said"),
    [
        ("Wiper motor, early", "wiper motor, early"),
        ("Diode, 6 A", "diode, 6 A"),
        ("LED lamp", "LED lamp"),
        ("H4 headlamp", "H4 headlamp"),
        ("A", "a"),
        ("", ""),
    ],
)
def test_a_title_has_no_capital_in_mid_sentence_unless_it_is_an_abbreviation(title: str, said: str) -> None:
    assert small(title) == said
