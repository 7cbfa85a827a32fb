"""A pattern at the supply that a vehicle has: batteries that give it, and what is made for another."""

import pytest
from filled_survey import survey_of
from planned import catalogue

from planner.inquiry.survey.answering import take_answers
from planner.inquiry.survey.prepare import prepare
from planner.inquiry.survey.taking import Surveyed
from planner.model.loom import Supply
from planner.model.survey_lines import Answers
from planner.problems import UsageError
from planner.reading.catalogue import read_job


def at(job: str, volts: float, earthed: str) -> Surveyed:
    supply = Supply(volts=volts, earthed=earthed)  # type: ignore[arg-type]
    survey = prepare(*read_job(job, catalogue()), catalogue(), supply)
    return take_answers(survey, Answers({}, supply.volts, supply.earthed), catalogue())


def test_the_loom_has_the_vehicles_own_supply_and_its_readings_expect_it() -> None:
    made = at("two-speed-wipers", 12, "positive")
    assert made.loom.supply.words == "12 V, positive earth"
    assert "yours is 12 V, positive earth" in made.overruled[0]
    six = prepare(
        *read_job("two-speed-wipers", catalogue()), catalogue(), Supply(volts=6, earthed="negative")
    )
    assert "6 V with ignition" in {how.expected for how in six.measurings.values()}


def test_a_battery_that_is_kept_is_one_of_that_supply_and_its_live_post_feeds_the_loom() -> None:
    pattern = survey_of("dynamo-to-alternator").loom
    place = next(name for name, fitted in pattern.places.items() if fitted.part.startswith("battery"))
    made = at("dynamo-to-alternator", 12, "positive").loom
    assert made.places[place].part == "battery-12v-positive-earth"
    live = {wire for wire, _ in pattern.ends_at[f"{place}:+"]}
    assert {wire for wire, _ in made.ends_at[f"{place}:-"]} == live


def test_parts_of_the_pattern_for_other_volts_are_named() -> None:
    assert "wiper motor" in at("two-speed-wipers", 6, "negative").overruled[0]


def test_a_supply_that_no_battery_gives_or_that_the_job_is_to_bring_about_is_said() -> None:
    with pytest.raises(UsageError, match="no battery of 24 V, positive earth"):
        at("dynamo-to-alternator", 24, "positive")
    job, _ = read_job("hauler-to-12-volts", catalogue())
    assert job.supply is not None
    with pytest.raises(UsageError, match="already"):
        at("hauler-to-12-volts", job.supply.volts, job.supply.earthed)


def test_sizes_lengths_and_fuses_that_nobody_read_are_said() -> None:
    said = "; ".join(at("two-speed-wipers", 12, "negative").loom.assumed)
    assert "size in mm2" in said and "length of every wire" in said and "fuse" in said
