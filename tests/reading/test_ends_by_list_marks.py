"""A list's own marks for terminals, once for all rows, at the place in the loom's file."""

import pytest
from planned import catalogue

from planner.model.loom import Loom
from planner.problems import FilePlace
from planner.reading.end_words import EndReader
from planner.reading.mark_words import likely_marks
from planner.reading.typed_values import NotUnderstood


def reader(marks: dict[str, str]) -> EndReader:
    place = {"part": "ignition-switch-early", "zone": "dash", "title": "ignition switch", "marks": marks}
    data = {"loom": "own", "supply": {"volts": 12, "earthed": "negative"}, "zones": {"dash": {}}}
    loom = Loom.model_validate({**data, "places": {"switch": place}})
    return EndReader(loom, catalogue().parts, catalogue().roles)


def test_a_wrong_mark_is_told_once_with_all_other_marks_of_the_list_and_what_each_likely_is() -> None:
    ends = reader({})
    ends.texts = (
        "ignition switch BAT",
        "ignition switch: AUX",
        "ign on the ignition switch",
        "horn BAT",
        "switch:ig",
    )
    with pytest.raises(NotUnderstood) as caught:
        ends.address("ignition switch BAT", FilePlace("list.csv", 2, 1))
    # Nothing that it is for begins with "aux", and two of its terminals are left.
    assert caught.value.hint.endswith("if it is so, marks: {BAT: A, AUX: CHOOSE, ign: IG}")


def test_the_last_mark_is_likely_the_last_terminal() -> None:
    part = catalogue().parts["dip-switch-foot"]
    likely = likely_marks(["in", "main", "dip"], part, catalogue().roles)
    assert likely == {"main": "56a", "dip": "56b", "in": "56"}


@pytest.mark.parametrize(("said", "pole"), [("neg", "-"), ("Positive", "+"), ("minus", "-"), ("+", "+")])
def test_a_pole_of_the_battery_is_read_in_words(said: str, pole: str) -> None:
    place = {"part": "battery-12v", "zone": "dash", "title": "battery"}
    data = {"loom": "own", "supply": {"volts": 12, "earthed": "negative"}, "zones": {"dash": {}}}
    ends = EndReader(Loom.model_validate({**data, "places": {"battery": place}}), catalogue().parts)
    assert ends.address(f"battery {said}", FilePlace("list.csv", 2, 1)) == f"battery:{pole}"


def read(text: str, marks: dict[str, str]) -> str:
    return reader(marks).address(text, FilePlace("list.csv", 2, 1))


@pytest.mark.parametrize(
    "text", ["ignition switch BAT", "switch:BAT", "BAT on the ignition switch", "switch / bat"]
)
def test_a_mark_of_the_list_stands_for_that_of_the_part(text: str) -> None:
    assert read(text, {"BAT": "A"}) == "switch:A"


def test_a_mark_of_the_list_goes_before_the_same_mark_of_the_part() -> None:
    assert read("ignition switch A", {"A": "AC", "B": "A"}) == "switch:AC"
    assert read("ignition switch B", {"A": "AC", "B": "A"}) == "switch:A"


def test_a_wrong_mark_is_told_with_what_the_terminals_are_for_and_once_how_to_name_it_for_all_rows() -> None:
    ends = reader({})
    with pytest.raises(NotUnderstood) as first:
        ends.address("ignition switch BAT", FilePlace("list.csv", 2, 1))
    assert first.value.hint.startswith("'switch:A' (battery feed) or 'switch:IG' (ignition feed)")
    assert first.value.hint.endswith("at switch in the loom's file, if it is so, marks: {BAT: A}")
    with pytest.raises(NotUnderstood) as second:
        ends.address("ignition switch BAT", FilePlace("list.csv", 3, 1))
    assert "marks" not in second.value.hint
