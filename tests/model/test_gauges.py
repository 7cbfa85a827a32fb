"""What a gauge shows with a sender, by their ohms alone."""

import pytest

from planner.model.elements import Gauge, Sender
from planner.model.gauges import belong_together, gauge_volts, readings
from planner.model.part import Part

MARKS = {"empty": 0.33, "full": 1.0}
PART = Part.model_validate(
    {"part": "g", "title": "g", "family": "g", "source": "invented", "terminals": {"a": {}, "b": {}}}
)


def gauge(**more: object) -> Gauge:
    given = {"ohms": 60, "full_scale_amps": 0.15, "does": "fuel gauge", "marks": MARKS, **more}
    return Gauge.model_validate({"element": "gauge", "between": ["a", "b"], **given})


def sender(full: float, empty: float) -> Sender:
    ohms = {"full": full, "empty": empty}
    return Sender.model_validate(
        {"element": "sender", "between": ["a", "b"], "follows": "fuel", "ohms": ohms}
    )


def test_the_two_in_series_on_the_gauges_volts_give_the_reading() -> None:
    found = {state: shown for state, shown, _ in readings(gauge(), PART, sender(20, 180))}
    assert found == {"full": pytest.approx(1.0), "empty": pytest.approx(12 / 240 / 0.15)}


def test_a_gauge_with_volts_of_its_own_is_reckoned_on_these() -> None:
    held = gauge(volts=10, full_scale_amps=0.125)
    assert gauge_volts(held, PART) == 10 and gauge_volts(gauge(), PART) == 12
    assert belong_together(held, PART, sender(20, 180))


def test_a_sender_of_another_range_does_not_belong_to_it() -> None:
    assert belong_together(gauge(), PART, sender(20, 180))
    assert not belong_together(gauge(), PART, sender(3, 90))


def test_a_sender_that_lacks_a_state_of_the_face_is_not_taken_for_its_own() -> None:
    short = Sender.model_validate(
        {"element": "sender", "between": ["a", "b"], "follows": "fuel", "ohms": {"full": 20}}
    )
    assert not belong_together(gauge(), PART, short)


def test_a_face_without_marks_belongs_to_none() -> None:
    assert not belong_together(gauge(marks={}), PART, sender(20, 180))
