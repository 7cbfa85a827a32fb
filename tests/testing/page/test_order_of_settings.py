"""In which order the settings of a meter page are asked: what nobody sets at will goes one way only."""

import pytest
from planned import catalogue

from planner.model.meter_page import MeterTest
from planner.sheet_pipeline import sheet_job


def asked_of(job: str) -> tuple[MeterTest, ...]:
    meter = sheet_job(job, catalogue()).meter
    assert meter is not None
    return tuple(test for test in meter.tests if test.stage == "live")


def test_a_wet_bilge_is_asked_for_last_and_never_dry_again() -> None:
    bilge = [dict(test.settings).get("bilge", "dry") for test in asked_of("launch-magnet-bilge-pump")]
    assert "wet" in bilge and bilge == sorted(bilge)


@pytest.mark.parametrize("job", ["tractor-to-12-volts-new-wiper", "horn-and-push"])
def test_a_button_is_pressed_and_held(job: str) -> None:
    said = " ".join(test.set_words for test in asked_of(job))
    assert "press the horn push and hold it" in said and "at pressed" not in said


def test_what_is_left_off_because_it_would_burn_is_neither_worked_nor_read() -> None:
    """First power takes a wire off the wiper of 6 V and leaves it off: nobody switches that on afterwards."""
    tests = asked_of("tractor-to-12-volts")
    assert tests and not any("cab.wiper" in f"{test.at} {test.to} {test.settings}" for test in tests)


def test_a_gear_that_stays_in_is_said_again_once_the_battery_was_off() -> None:
    asked = asked_of("minibus-inhibitor-start-only")
    said = next(test.set_words for test in asked if "back on 50" in test.set_words)
    assert said.endswith("battery on; the ignition switch to on; gear reverse")
