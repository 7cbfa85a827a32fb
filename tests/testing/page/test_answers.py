"""The scale beside a good reading, parted by hand: who is asked for which reading."""

from math import inf

import pytest

from planner.testing.page.answers import Scale, Suspect, answers
from planner.testing.page.bands import Band

OHMS = Scale("ohm", 12.0, "less", "more")
VOLTS = Scale("V", 12.0, "less", "more")
WIRE = Band(0.05, 0.0, 0.4, "lit")
LOAD = Band(12.2, 10.5, 12.8, "lit")
OFF = Suspect(inf, "off", "poor", "W1", way_open=True)

Lines = list[tuple[float, float, str]]


def told(band: Band, scale: Scale, *suspects: Suspect) -> Lines:
    return [(line.low, line.high, line.words) for line in answers(band, suspects, scale)]


def test_between_a_good_wire_and_one_that_is_off_lies_a_poor_joint() -> None:
    assert told(WIRE, OHMS, OFF) == [(0.4, 3000.0, "poor"), (3000.0, inf, "off")]


def test_what_else_reads_in_between_parts_the_poor_joint() -> None:
    lines = told(WIRE, OHMS, OFF, Suspect(17.8, "wrong way round"))
    assert lines == [
        (0.4, 15.5, "poor"),
        (15.5, 20.0, "wrong way round"),
        (20.0, 3000.0, "poor"),
        (3000.0, inf, "off"),
    ]


def test_what_would_overlap_is_parted_in_the_middle() -> None:
    lines = told(WIRE, OHMS, Suspect(2.0, "one"), Suspect(2.8, "other"), OFF)
    assert [line[:2] for line in lines][:3] == [(0.4, 1.2), (1.2, 2.4), (2.4, 3.6)]
    assert [line[2] for line in lines] == ["poor", "poor; or one", "poor; or other", "poor", "off"]


def test_a_few_ohms_are_a_poor_joint_before_anything_else() -> None:
    assert told(WIRE, OHMS, OFF, Suspect(1.0, "traded"))[0] == (0.4, 1.8, "poor; or traded")
    assert told(WIRE, OHMS, Suspect(1.0, "traded"))[0] == (0.4, 1.8, "traded")  # nothing that may be poor


def test_an_end_that_was_crimped_is_where_to_look_first() -> None:
    crimped = Suspect(1000.0, "crimped", "crimped", "W1", only_poor=True)
    assert told(WIRE, OHMS, OFF, crimped)[0] == (0.4, 3000.0, "crimped")
    other = Suspect(inf, "other off", "other poor", "W2", way_open=True)
    assert told(WIRE, OHMS, OFF, other, crimped)[0][2] == "crimped; or other poor"


def test_one_mistake_of_each_wire_is_told_before_a_second_of_the_same() -> None:
    ends = [Suspect(0.0, f"{wire} off {end}", f"{wire} poor", wire) for wire in ("W1", "W2") for end in "ab"]
    assert told(LOAD, VOLTS, *ends)[0] == (-0.4, 0.4, "W1 off a; or W2 off a; or W1 off b")


def test_both_ends_of_a_wire_are_one_cause_and_what_must_be_told_is_told() -> None:
    wires = [
        Suspect(0.0, f"{wire} is off {end}", f"{wire} poor", wire, off=end, named=wire, must=wire != "W1")
        for wire in ("W1", "W2", "W3", "W4", "W5")
        for end in "ab"
    ]
    wires[1] = Suspect(5.0, "W1 is off b", "", "W1", off="b", named="W1")  # reads something else
    said = ("W2 is off a or off b", "W3 is off a or off b", "W4 is off a or off b", "W5 is off a or off b")
    assert told(LOAD, VOLTS, *wires)[0][2] == "; or ".join(said)
    assert told(LOAD, VOLTS, *wires[:4])[0][2] == "W2 is off a or off b; or W1 is off a"


def test_a_way_beside_the_wire_ends_the_scale_of_a_poor_joint() -> None:
    lines = told(WIRE, OHMS, Suspect(246.0, "off", "poor", "W1", way_open=True))
    assert lines == [(0.4, 220.0, "poor"), (220.0, inf, "off")]


def test_volts_less_and_more_than_good() -> None:
    lines = told(LOAD, VOLTS, Suspect(0.0, "off", "poor", "W1", way_open=True))
    assert lines == [(-0.4, 0.4, "off"), (0.4, 10.5, "poor"), (12.8, inf, "more")]


@pytest.mark.parametrize(("band", "scale"), [(WIRE, OHMS), (LOAD, VOLTS)])
def test_where_nothing_is_known_the_rest_is_told(band: Band, scale: Scale) -> None:
    lines = told(band, scale)
    assert [words for _, _, words in lines] == (["more"] if scale is OHMS else ["less", "more"])


def test_where_nothing_may_join_two_points_all_below_open_is_told() -> None:
    lines = told(Band(inf, 50_000.0, inf, "dark"), OHMS, Suspect(12.0, "touches"))
    assert lines == [(0.0, 10.4, "less"), (10.4, 13.6, "touches"), (13.6, 50_000.0, "less")]


def test_minus_volts_of_a_mistake_are_lines_as_well() -> None:
    nothing = Band(0.0, -0.1, 0.1, "dark")
    lines = told(nothing, VOLTS, Suspect(-11.0, "off", "poor", "W1", way_open=True))
    assert lines == [(-inf, -9.7, "off"), (-9.7, -0.1, "poor"), (0.1, inf, "more")]


def test_where_nothing_is_good_a_minus_says_nothing_of_the_wires() -> None:
    assert told(Band(0.0, -0.1, 0.1, "dark"), VOLTS) == [(0.1, inf, "more")]


def test_between_nothing_and_a_minus_that_is_known_the_tips_are_asked_after() -> None:
    scale = Scale("V", 12.0, "less", "more", "minus")
    lines = told(LOAD, scale, Suspect(-8.6, "wrong way round"), Suspect(0.0, "off"))
    assert [words for _, _, words in lines] == ["wrong way round", "minus", "off", "less", "more"]


def test_a_minus_has_its_line_whatever_else_is_likelier() -> None:
    likelier = [Suspect(reading, f"{reading}") for reading in (0.0, 3.0, 6.0, 9.0)]
    lines = told(LOAD, VOLTS, *likelier, Suspect(-11.9, "traded"))
    assert lines[0] == (-inf, -10.5, "traded")
    assert [line[2] for line in lines].count("9.0") == 0
