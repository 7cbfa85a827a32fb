"""A gauge stabiliser is of bimetal or electronic: no ohms hang on it; more than its volts, key off first."""

import pytest
from metered import metered, readings

from planner.testing.page.judging import judge

OUTPUT = "dash.fuel-gauge.gauge-1:I"


def test_a_stabiliser_turned_round_passes_no_volts_and_is_named_with_the_key_off() -> None:
    van = metered("gauge-stabiliser-lost")
    (turned,) = [
        m for m in van.slips.values() if "the gauge stabiliser" in m.words and "wrong way" in m.words
    ]
    tests = sorted(van.page.tests, key=lambda test: test.unit != "ohm")
    ((_, edit),) = van.ground.exposer.edits([turned])
    (read,) = readings(van, [edit], tests)
    for test, own in zip(tests, read, strict=True):
        if test.unit == "ohm":
            assert judge(test, "", own).verdict == "good"  # a cold contact is closed either way round
            assert not any(turned.words in wrong.words for wrong in test.wrong)
        elif test.at == OUTPUT:
            (said,) = judge(test, "", own).says
            assert said.words.startswith("key off at once") and turned.words in said.words


def test_one_that_is_left_out_shows_before_the_battery_goes_on() -> None:
    dead = [test for test in metered("gauge-stabiliser-lost").page.tests if test.unit == "ohm"]
    assert any("was left out" in wrong.words for test in dead for wrong in test.wrong)


@pytest.mark.parametrize("job", ["gauge-stabiliser-lost", "gauge-with-own-stabiliser"])
def test_all_that_a_gauge_does_not_bear_has_the_key_off_first(job: str) -> None:
    for test in (test for test in metered(job).page.tests if "gauge" in test.at and "case" not in test.at):
        for wrong in (own for own in test.wrong if test.unit == "V" and own.low >= max(10.0, test.high)):
            assert wrong.words.startswith("key off at once"), test.where_words


def test_too_much_across_a_gauge_names_its_stabiliser_first() -> None:
    (test,) = [t for t in metered("gauge-stabiliser-lost").page.tests if t.to == "dash.fuel-gauge:F"]
    assert test.wrong[-1].low >= test.high
    assert test.wrong[-1].words.startswith("key off at once, or the gauge is destroyed: the gauge stabiliser")
