"""What people write of a meter's reading at a wire, and what is asked back."""

import pytest
from filled_survey import survey_of
from planned import catalogue

from planner.model.survey_lines import MeterReading
from planner.reading.typed_values import NotUnderstood
from planner.reading.wire_readings import read_at_wire

LOOM = survey_of("two-speed-wipers").loom


def read(text: str) -> MeterReading:
    return read_at_wire(text, LOOM, catalogue())


@pytest.mark.parametrize(
    "text", ["12 V always", "12.6 volts always", "always live", "12V constant", "battery volts at all times"]
)
def test_a_constant_feed_is_understood(text: str) -> None:
    assert (read(text).kind, read(text).when) == ("live", "always")


@pytest.mark.parametrize(
    "text", ["12 V with ignition", "12,4 v ignition on", "12 volts with the key on", "hot with ignition only"]
)
def test_an_ignition_feed_is_understood(text: str) -> None:
    assert (read(text).kind, read(text).when) == ("live", "ignition")


@pytest.mark.parametrize(
    "text", ["12 V with lights", "12 V when the side lights are on", "12v with lamps on"]
)
def test_a_feed_of_the_lights_is_understood(text: str) -> None:
    assert (read(text).kind, read(text).when) == ("live", "lights")


def test_anything_else_that_switches_it_is_kept_in_its_words() -> None:
    assert read("12 V with the brake pedal pressed").when == "brake pedal pressed"
    assert read("0 ohms to body with door open") == MeterReading(
        "0 ohms to body with door open", "earth", "door open", ohms=0.0
    )


@pytest.mark.parametrize("text", ["0 ohms to body", "0.3 ohm to earth", "earth", "ground", "beeps to body"])
def test_earth_is_understood_in_british_and_american(text: str) -> None:
    assert (read(text).kind, read(text).when) == ("earth", "always")


def test_ohms_that_no_earth_has_are_a_load() -> None:
    assert (read("30 ohms to body").kind, read("30 ohms to body").ohms) == ("ohms", 30.0)


@pytest.mark.parametrize("text", ["nothing", "no reading", "OL", "open", "0 V", "no continuity"])
def test_nothing_is_understood(text: str) -> None:
    assert read(text).kind == "nothing"


@pytest.mark.parametrize(
    "text", ["beeps to motor P", "continuity to the wiper motor P", "0 ohms to P on the motor",
             "beeps to scuttle.wiper-motor:P", "goes to wiper motor P"],
)  # fmt: skip
def test_the_other_end_is_named_as_people_name_it(text: str) -> None:
    assert read(text).to == "scuttle.wiper-motor:P"


@pytest.mark.parametrize(
    "text", ["beeps to dome light D", "goes to D on the dome lamp", "beeps to interior D"]
)
def test_the_other_end_may_be_named_in_american_or_by_the_beginning_of_a_word(text: str) -> None:
    loom = survey_of("interior-lamp-without-earth").loom
    assert read_at_wire(text, loom, catalogue()).to == "cab.interior-lamp:D"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("12 V", "does not say when"),
        ("live", "does not say when"),
        ("6 V always", "this vehicle has 12 V"),
        ("24 V with ignition", "this vehicle has 12 V"),
        ("beeps", "does not say to what"),
        ("0 ohms", "does not say to what"),
        ("4 ohms to motor M", "no more than 2 ohms"),
        ("beeps to motor 87", "no terminal is called"),
        ("beeps to M", "no terminal is called"),
        ("a lot", "is no reading"),
        ("6.3 push-on", "is how the end attaches"),
        ("spade", "is how the end attaches"),
        ("M8 ring", "is how the end attaches"),
        ("12", "does not say of what"),
    ],
)
def test_what_is_not_clear_is_asked_back(text: str, said: str) -> None:
    with pytest.raises(NotUnderstood, match=said) as error:
        read(text)
    assert error.value.hint


def test_a_mark_that_two_parts_have_is_asked_back_with_both() -> None:
    with pytest.raises(NotUnderstood, match="may mean 2 terminals") as error:
        read("beeps to wiper M")
    assert "wiper switch" in error.value.hint and "wiper motor" in error.value.hint
