"""What people call a colour, a wire end and a terminal."""

import pytest

from planner.model.loom import COLOUR_PATTERN, Loom, Wire
from planner.model.wording import (
    COLOUR_WORDS,
    address_words,
    body_words,
    colour_words,
    small,
    volts_to_body,
    wire_words,
)

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
        ("loose", "a loose end"),
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


@pytest.mark.parametrize(
    ("is_body", "words"),
    [
        ({"engine": True, "hull": True}, "bare metal of the body"),
        ({"engine": True, "hull": False}, "bare metal of the engine block"),
        ({"engine": False, "hull": False}, "earth, where the return wire ends"),
    ],
)
def test_the_other_tip_goes_to_what_is_earthed(is_body: dict[str, bool], words: str) -> None:
    assert body_words(_boat(is_body, "negative")) == words
    assert volts_to_body(_boat(is_body, "negative")) == words


def test_a_trailer_has_its_earth_at_the_contact_of_its_plug_where_its_one_return_ends() -> None:
    wire = {"wire": "D3", "colour": "WH", "mm2": 2.5, "metres": 2, "ends": ["earth", "box:3"]}
    boat = _boat({"engine": False, "hull": False}, "negative")
    trailer = Loom.model_validate({**boat.model_dump(), "kind": "trailer", "wires": [wire]})
    assert body_words(trailer) == (
        "the contact of the trailer's plug on which the white wire (D3), its return, ends"
    )
    assert body_words(trailer.model_copy(update={"kind": "boat"})) == "earth, where the return wire ends"


def test_with_the_positive_pole_earthed_the_red_tip_goes_there() -> None:
    boat = _boat({"engine": True, "hull": False}, "positive")
    assert volts_to_body(boat) == "bare metal of the engine block, the red tip there (positive earth)"


def _boat(is_body: dict[str, bool], earthed: str) -> Loom:
    titles = {"engine": "engine block", "hull": "engine space"}
    zones = {name: {"title": titles[name], "body": body} for name, body in is_body.items()}
    return Loom.model_validate(
        {"loom": "boat", "supply": {"volts": 12, "earthed": earthed}, "zones": zones, "places": {}}
    )
