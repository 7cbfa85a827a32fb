"""A starter that must not come in is read dead in every such setting, and nobody cranks in gear for it."""

from dataclasses import replace

from metered import metered

from planner.model.meter_page import MeterTest
from planner.testing.page.wording import Wording

JOB = "minibus-inhibitor-start-only"
IGNITION = "dash.ignition-switch/ignition"
BACK_ON = "every switch off, battery off; the red/white wire (M17) back on 50 on the starter; battery on"


def at_start(job: str) -> list[MeterTest]:
    return [t for t in metered(job).page.tests if dict(t.settings).get(IGNITION) == "start"]


def test_in_each_gear_that_must_not_crank_the_solenoid_is_read_dead() -> None:
    dead = [test for test in at_start(JOB) if test.at == "bay.starter:50"]
    assert [dict(test.settings)["gear"] for test in dead] == ["drive", "reverse"]
    assert all(test.high < 0.3 and test.lamp == "dark" for test in dead)
    assert all("must stay dead with gear" in test.why for test in dead)


def test_its_wire_is_off_before_the_gear_goes_in_and_the_key_is_turned_last() -> None:
    first = next(test for test in at_start(JOB) if test.at == "bay.starter:50")
    *off, gear, key = first.set_words.split("; ")
    assert off == [
        "every switch off, battery off",
        "take the red/white wire (M17) off 50 on the starter, and let its end touch nothing",
        "battery on",
    ]
    assert gear == "gear drive" and key == "hold the ignition switch at start"
    assert "the end of the red/white wire (M17)" in first.where_words
    tests = metered(JOB).page.tests
    after = next(t for t in tests[first.n :] if "back on" in t.set_words)
    assert after.set_words.startswith(f"{BACK_ON}; ") and "the ignition switch to on" in after.set_words


def test_nothing_is_read_in_a_gear_in_which_the_starter_was_not_read_dead() -> None:
    dead: set[str] = set()
    for test in metered(JOB).page.tests:
        gear = dict(test.settings).get("gear")
        if test.at == "bay.starter:50" and gear:
            dead.add(gear)
        assert gear is None or gear in dead


def test_the_engine_is_turned_last_when_the_starter_was_read_dead_in_each_gear() -> None:
    tests = metered(JOB).page.tests
    turns = [test.n for test in tests if "the engine turns" in test.set_words]
    assert turns == [len(tests)]
    assert all(test.n < turns[0] for test in at_start(JOB) if test.at == "bay.starter:50")


def test_where_the_engine_turns_it_is_said() -> None:
    turning = next(test for test in at_start(JOB) if test.at != "bay.starter:50")
    assert "the engine turns: out of gear, wheels chocked, brake on" in turning.set_words
    tests = [test for test in metered("two-speed-wipers").page.tests if test.set_words]
    assert tests and not any("the engine turns" in test.set_words for test in tests)


def test_a_wire_that_is_off_for_the_last_test_goes_back_on() -> None:
    van = metered(JOB)
    wording = Wording(van.ground.wired, van.ground.stands.view.net, van.ground.catalogue.parts)
    last = replace(van.ground.stands.at({}), lead_off="bay.starter:50")
    assert wording.after_words(last) == BACK_ON
    assert wording.after_words(van.ground.stands.at({})) == wording.after_words(None) == van.page.after == ""


def test_what_the_last_test_leaves_set_goes_back_as_far_as_hands_set_it() -> None:
    van = metered(JOB)
    wording = Wording(van.ground.wired, van.ground.stands.view.net, van.ground.catalogue.parts)
    moved = {"gear": "reverse", "dash.ignition-switch/ignition": "on", "engine": "running"}
    last = van.ground.stands.at(moved)
    assert wording.after_words(last) == "the ignition switch back to off; gear park"
