"""Readings that contradict the pattern as one mistake of measuring would: asked, and never all clear."""

import pytest
from filled_survey import survey_of
from planned import catalogue

from planner.inquiry.survey.answering import take_answers
from planner.inquiry.survey.one_cause import one_cause
from planner.inquiry.survey.taking import Surveyed
from planner.model.survey_lines import Answer, Answers
from planner.reading.wire_readings import read_at_wire

WIPERS, LAMP = "two-speed-wipers", "interior-lamp-without-earth"
SWITCH, MOTOR, ROOF = "dash.wiper-switch", "scuttle.wiper-motor", "cab.interior-lamp"
Said = dict[tuple[str, str, int], str]
REVERSED: Said = {(ROOF, "B", 1): "nothing", (ROOF, "E", 1): "12 V always"}


def taken(said: Said, job: str = LAMP) -> Surveyed:
    """The answers to a job's lines, each in a colour of its own."""
    survey = survey_of(job)
    answers = {
        key: Answer(colour="BK", reading=read_at_wire(text, survey.loom, catalogue()))
        for key, text in said.items()
    }
    return take_answers(survey, Answers(answers, 12.0, "negative"), catalogue())


def asked(said: Said, job: str = LAMP) -> list[str]:
    return [cause.doubt.about for cause in taken(said, job).doubts]


def test_a_feed_that_reads_nothing_and_an_earth_that_reads_live_may_be_the_lamps_clip() -> None:
    (about,) = asked(REVERSED)
    assert "clipped to the live pole" in about and "B on the interior lamp, E on the interior lamp" in about


def test_what_is_doubtful_stands_in_the_loom_with_both_answers() -> None:
    (doubt,) = taken(REVERSED).loom.doubts
    assert list(doubt.answers) == ["12 V always", "the same as before"]
    assert "bare metal of the body" in doubt.where and "battery's live post" in doubt.how


def test_one_reading_that_differs_is_a_vehicle_that_differs() -> None:
    assert asked({(ROOF, "E", 1): "12 V always"}) == []
    assert asked({(ROOF, "B", 1): "12 V always", (ROOF, "E", 1): "12 V always"}) == []


@pytest.mark.parametrize("again", ["nothing, read again", "nothing (checked)"])
def test_a_reading_that_was_taken_again_is_the_vehicles_own(again: str) -> None:
    made = taken({**REVERSED, (ROOF, "B", 1): again})
    assert made.doubts == () and made.loom.doubts == () and len(made.overruled) == 2


def test_feeds_that_all_read_nothing_may_be_the_battery_or_the_ignition() -> None:
    off: Said = {(SWITCH, "B", 1): "nothing", (MOTOR, "P", 1): "nothing"}
    (about,) = asked(off, WIPERS)
    assert "battery was off" in about and "ignition was not on" in about


def test_what_reads_live_speaks_against_a_battery_that_is_off() -> None:
    off: Said = {(SWITCH, "B", 1): "nothing", (MOTOR, "P", 1): "nothing", (MOTOR, "M", 1): "12 V always"}
    (about,) = asked(off, WIPERS)
    assert "battery" in about  # one against two
    more: Said = {**off, (SWITCH, "M", 1): "12 V always"}
    assert not any("battery was off" in text for text in asked(more, WIPERS))


def test_a_minus_asks_for_the_meters_leads_and_the_pole() -> None:
    (about,) = asked({(ROOF, "B", 1): "-12 V always"})
    assert "leads were exchanged" in about and "positive pole is earthed" in about
    assert asked({(ROOF, "B", 1): "-12 V always, read again"}) == []


def test_where_most_contradict_and_no_mistake_explains_it_the_side_of_the_sketch_is_asked() -> None:
    mixed: Said = {
        (SWITCH, "B", 1): "0 ohms to body",
        (SWITCH, "M", 1): "12 V with ignition",
        (SWITCH, "S", 1): "12 V always",
    }
    (about,) = asked(mixed, WIPERS)
    assert "mirror image" in about


def test_readings_that_agree_are_never_doubted() -> None:
    survey = survey_of(WIPERS)
    assert one_cause(survey, Answers({})) == ()
    assert (
        asked({(SWITCH, "B", 1): "12 V with ignition", (SWITCH, "M", 1): f"beeps to {MOTOR}:M"}, WIPERS) == []
    )


def test_a_supply_that_nobody_has_said_is_a_doubt() -> None:
    survey = survey_of(LAMP)
    (doubt,) = take_answers(survey, Answers({}), catalogue()).loom.doubts
    assert "12 V, negative earth" in doubt.about
    (doubt,) = take_answers(survey, Answers({}, volts=12.0), catalogue()).loom.doubts
    assert "12 V" not in doubt.about and "negative earth" in doubt.about
    assert take_answers(survey, Answers({}, 12.0, "negative"), catalogue()).loom.doubts == ()
