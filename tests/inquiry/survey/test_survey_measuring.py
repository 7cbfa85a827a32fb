"""How each line is measured: method, settings, and what each reading means."""

import pytest
from filled_survey import survey_of
from small_survey import bench, survey

from planner.inquiry.survey.measuring import methods, range_words
from planner.model.loom import Supply


def how(mark: str, number: int = 1, place: str = "dash.wiper-switch", job: str = "two-speed-wipers"):  # type: ignore[no-untyped-def]
    return survey_of(job).measurings[place, mark, number]


def test_a_feed_is_measured_in_volts_with_the_ignition_off_and_on() -> None:
    made = how("B")
    assert (made.method, made.settings, made.expected) == (
        "volts",
        "ignition off, then on",
        "12 V with ignition",
    )
    assert made.leads == "3 on the fuse box"
    assert dict(made.means)["12 V always"] == "a constant feed"


def test_a_wire_to_a_part_in_hand_is_followed_to_its_other_end() -> None:
    made = how("M")
    assert made.method == "beep" and made.settings == "other probe on M on the wiper motor"
    assert "some ohms to body" in dict(made.means)


def test_a_switched_earth_is_read_in_ohms_with_what_closes_it() -> None:
    made = how("D", 1, "cab.interior-lamp", "interior-lamp-without-earth")
    assert made.method == "ohms" and "door switch open" in made.settings


def test_a_wire_that_is_dead_without_its_part_is_followed_to_where_it_goes() -> None:
    made = how("L", 1, "dash.flasher", "hazard-flasher")
    assert made.method == "beep" and made.leads == "F on the turn switch"


def test_a_mounting_is_read_from_its_bracket() -> None:
    made = how("mounting", 1, "scuttle.wiper-motor")
    assert made.method == "bracket" and made.means[0] == ("under 1 ohm", "its mounting earths it")


def test_a_motor_that_parks_is_said_to_be_parked_not_to_start_so() -> None:
    assert how("S").settings == "read also with the wiper motor parked"


@pytest.mark.parametrize(("volts", "range_"), [(6, "20 V DC"), (12, "20 V DC"), (24, "200 V DC")])
def test_the_range_is_the_next_above_the_supply(volts: float, range_: str) -> None:
    assert range_words(Supply(volts=volts, earthed="negative")) == range_


@pytest.mark.parametrize(("earthed", "live"), [("negative", "red"), ("positive", "black")])
def test_the_probes_are_named_for_the_pole_that_is_earthed(earthed: str, live: str) -> None:
    said = dict(methods(Supply(volts=6, earthed=earthed)))  # type: ignore[arg-type]
    assert f"the {live} probe on the wire" in said["VOLTS"]
    assert "earthed pole of the battery OFF" in said["OHMS"]


def test_every_line_of_a_survey_has_its_measuring() -> None:
    made = survey()
    assert set(made.measurings) == {line.key for line in made.asked}
    assert bench().catalogue.parts["switch"].terminals.keys() == {line.mark for line in made.asked}
