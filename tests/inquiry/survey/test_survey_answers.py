"""What answers make of the pattern: measured, seen, assumed, and overruled where the meter says so."""

import pytest
from small_survey import line, reading, survey, taken, taken_at

from planner.inquiry.survey.matching import agrees
from planner.model.survey_lines import Answer


@pytest.mark.parametrize(
    ("mark", "said", "is_so"),
    [
        ("B", "12 V with ignition", True),
        ("B", "12 V always", False),
        ("B", "12 V with lights", False),
        ("B", "0 ohms to body", False),
        ("B", "nothing", False),
        ("B", "beeps to fuses a", True),
        ("B", "beeps to front L", False),
        ("L", "30 ohms to body", True),
        ("L", "0.4 ohms to body", True),  # a cold filament
        ("L", "900 ohms to body", False),
        ("L", "beeps to front L", True),
        ("L", "12 V with ignition", False),
        ("L", "nothing", False),
    ],
)
def test_a_reading_agrees_if_the_patterns_conductor_can_give_it(mark: str, said: str, is_so: bool) -> None:
    made = survey()
    assert agrees(reading(made, said), line(made, mark)) is is_so


def test_a_reading_makes_the_wire_measured_and_a_colour_its_end_seen() -> None:
    made = taken(survey(), B=("GN", "12 V with ignition"), L=("WH", ""))
    feed, lamp = made.loom.find("F"), made.loom.find("L")
    assert (feed.colour, feed.known) == (("GN",), "measured")
    assert lamp.colour == ("WH",) and lamp.known == "assumed"
    assert [end.known for end in lamp.ends] == ["seen", None]
    assert made.loom.places["switch"].known == "seen" and made.loom.places["fuses"].known == "assumed"
    assert made.overruled == () and made.open == 0


def test_hardly_any_ohms_do_not_tell_a_cold_filament_from_an_earth() -> None:
    made = taken(survey(), L=("WH", "0.3 ohms to body"))
    assert made.overruled == () and made.loom.find("L").known == "assumed"
    assert made.lines[1].known == "seen"
    assert taken(survey(), L=("WH", "30 ohms to body")).loom.find("L").known == "measured"


def test_what_is_measured_at_one_end_is_measured_on_the_whole_conductor() -> None:
    made = taken(survey(), B=("GN", "12 V with ignition"))
    sibling = next(wire for wire in made.loom.wires if {e.at for e in wire.ends} == {"fuses:a", "fan:F"})
    assert sibling.known == "measured"
    assert made.loom.find("L").known == "assumed"


def test_nothing_answered_leaves_everything_assumed() -> None:
    made = taken(survey())
    assert made.loom.wires == survey().loom.wires
    assert made.open == 2 and made.loom.places["switch"].known == "assumed"


def test_a_feed_of_another_kind_leads_to_a_feed_of_its_own() -> None:
    made = taken(survey(), B=("RD", "12 V always"))
    wire = made.loom.find("F")
    assert wire.ends[0].at == "switch:B" and made.loom.feeds[wire.ends[1].at].role == "30"
    assert "12 V with ignition" in made.overruled[0] and "12 V always" in made.overruled[0]
    assert "F-rest" not in made.loom.wire_index  # what is left of it on the fuses is no wire


@pytest.mark.parametrize(
    ("said", "role", "when"),
    [
        ("12 V with ignition", "15", {"ignition": ("on",)}),
        ("12 V with lights", "58", {"switch/lamps": ("on",)}),
        ("12 V with the hood open", "58", {"hood open": ("on",)}),
    ],
)
def test_a_live_output_is_a_feed_with_what_makes_it_live(
    said: str, role: str, when: dict[str, tuple[str, ...]]
) -> None:
    made = taken(survey(), L=("RD", said))
    feed = made.loom.feeds[
        made.loom.find("L").ends[0 if made.loom.find("L").ends[0].at != "switch:L" else 1].at
    ]
    assert (feed.role, feed.when, feed.known) == (role, when, "measured")
    assert set(when) <= {*made.loom.conditions, "switch/lamps"}


def test_an_earth_and_another_terminal_are_led_there() -> None:
    assert taken(survey(), B=("BK", "0 ohms to body")).loom.find("F").ends[1].at == "earth:z"
    assert taken(survey(), L=("BK", "beeps to rear L")).loom.find("L").ends[1].at == "rear:L"


def test_what_cannot_be_said_at_the_edge_is_unknown_and_said() -> None:
    made = taken(survey(), B=("BK", "nothing"))
    assert made.loom.find("F").ends[1].at == "unknown"
    assert "where it goes is not known now" in made.overruled[0]


def test_each_line_has_the_tag_by_which_the_plan_tells_its_wire() -> None:
    made = taken(survey(), B=("BN", "12 V with ignition"), B_2=("BN", ""))
    tags = {(line.asked.mark, line.asked.number): line.tag for line in made.lines}
    assert (tags["B", 1], tags["B", 2]) == ("F", "X1")
    assert {wire for wire, _ in made.loom.ends_at["switch:B"]} == {"F", "X1"}


def test_a_wire_that_is_not_there_is_taken_away() -> None:
    made = taken(survey(), B=(None, ""))
    assert "F" not in made.loom.wire_index and "no wire" in made.overruled[0]


def test_a_wire_too_many_is_added_with_a_tab_for_it() -> None:
    made = taken(survey(), B=("GN", "12 V with ignition"), B_2=("PK", "12 V always"), B_3=("GY", ""))
    assert [made.loom.find(name).colour for name in ("X1", "X2")] == [("PK",), ("GY",)]
    assert made.loom.find("X2").ends[1].at == "unknown"
    assert made.loom.piggybacks == ("switch:B", "switch:B")


def test_another_colour_at_the_other_end_is_a_joint_on_the_way_and_said() -> None:
    both = survey(swaps=[{"at": "switch", "fit": "late"}, {"at": "front", "fit": "lamp"}])
    colours = {("switch", "L", 1): Answer(colour="WH"), ("front", "L", 1): Answer(colour="YE")}
    made = taken_at(both, colours)
    assert made.loom.find("La").colour == ("WH",) and made.loom.find("Lb").colour == ("YE",)
    assert made.loom.find("La").ends[1].at == made.loom.find("Lb").ends[1].at == "joint:L"
    assert "white at L on the switch, yellow at L on the front" in made.overruled[0]
