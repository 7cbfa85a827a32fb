"""Readings that hang on how full a tank is: good at any level, both ends told."""

import pytest
from metered import metered

from planner.model.loom import Supply
from planner.model.meter_log import MeterLog
from planner.model.meter_page import MeterTest
from planner.sheets.build.meter_words import good_words
from planner.testing.page.handing_over import observations
from planner.testing.page.judging import judge


def asked(job: str, at: str) -> MeterTest:
    return next(test for test in metered(job).page.tests if test.at == at and test.at_levels)


def test_the_volts_of_a_gauge_are_told_with_the_tank_full_and_empty() -> None:
    test = asked("fuel-gauge-and-sender", "dash.fuel-gauge:I")
    # 12.7 V over 70 + 33 and 70 + 240 ohm, less what a battery and loads may be off.
    assert good_words(test) == (
        "2.0 to 9.6 V: 2.0 to 3.7 V with fuel empty, 7.1 to 9.6 V with fuel full, in between at other levels"
    )
    assert "with fuel" not in test.where_words


def test_a_new_sender_is_read_at_both_ends_of_its_arm() -> None:
    test = asked("fuel-gauge-and-sender", "rear.tank-sender:S")
    assert test.stage == "dead" and "loose in the hand" in test.why and test.to == "rear.tank-sender:case"
    (full, *of_full), (empty, *of_empty) = test.at_levels
    assert (full, empty) == ("fuel full", "fuel empty")
    # 33 and 240 ohm, 15 % either way.
    assert of_full[0] < 33 * 0.87 and of_full[1] > 33 * 1.14
    assert of_empty[0] < 240 * 0.87 and of_empty[1] > 240 * 1.14


def test_a_sender_in_the_hand_has_its_own_ohms_whatever_hangs_on_its_wire() -> None:
    """73 ohm by the catalogue's file; fitted, with another way beside it, a meter reads less."""
    test = asked("launch-tank-sender", "stern.tank-sender:S")
    assert "10 ohm with fuel full and 73 ohm with fuel empty" in test.why
    assert {level: high for level, _, high in test.at_levels}["fuel empty"] < 73


@pytest.mark.parametrize(
    "ohms, verdict", [(10.0, "wrong"), (33.0, "good"), (120.0, "good"), (900.0, "wrong")]
)
def test_any_level_between_the_ends_is_good(ohms: float, verdict: str) -> None:
    assert judge(asked("fuel-gauge-and-sender", "rear.tank-sender:S"), "", ohms).verdict == verdict


def test_a_hunt_is_not_told_what_hangs_on_the_level() -> None:
    """It would take the tank for full, and accuse a wire of what the level does."""
    test = asked("fuel-gauge-and-sender", "dash.fuel-gauge:I")
    log = MeterLog("fuel-gauge-and-sender", "", (judge(test, "", 4.0), judge(test, "", 0.0)), ())
    supply: Supply = metered("fuel-gauge-and-sender").ground.wired.loom.supply
    assert [seen.says for seen in observations(log, supply)] == [0.0]
