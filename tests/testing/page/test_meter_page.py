"""The meter page of a shipped job, from the plan to the printed sheet."""

from functools import lru_cache
from math import isinf

import pytest
from metered import metered
from testing_ground import catalogue, ground

from planner.model.bench_sheet import BenchSheet
from planner.model.meter_page import MeterPage, MeterTest
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.build.bench_json import bench_json
from planner.sheets.render.markdown import as_markdown
from planner.testing.page.notes import notes


@lru_cache(maxsize=4)
def sheet(name: str) -> BenchSheet:
    return sheet_job(name, catalogue())


def page(name: str) -> MeterPage:
    found = sheet(name).meter
    assert found is not None
    return found


def at(name: str, address: str, stage: str) -> list[MeterTest]:
    return [test for test in page(name).tests if test.stage == stage and address in (test.at, test.to)]


def test_dead_tests_come_before_live_ones_and_numbers_run_on() -> None:
    tests = page("two-speed-wipers").tests
    assert [test.n for test in tests] == list(range(1, len(tests) + 1))
    stages = [test.stage for test in tests]
    assert stages == sorted(stages) and {"dead", "live"} <= set(stages)


def test_a_wire_that_is_on_at_both_ends_reads_next_to_nothing_and_open_if_it_is_off() -> None:
    (test,) = at("two-speed-wipers", "scuttle.wiper-motor:31b", "dead")
    assert test.low == 0.0 and 0.0 < test.expected < 0.1 and test.high < 0.5
    assert test.lamp == "lit"
    assert any(isinf(w.high) and "(W37) is off 31b on the wiper switch" in w.words for w in test.wrong)
    assert {4, 11} <= set(test.steps)  # the two steps that put it on


def test_a_wire_that_is_laid_anew_has_both_its_ends_put_on_by_that_step() -> None:
    (test,) = at("minibus-alternator", "bay.starter:30", "dead")
    step = next(s for s in sheet("minibus-alternator").plan.steps if s.text.startswith("Lay a thicker wire"))
    assert test.steps == (step.n,)
    assert "is off B+ on the alternator or off 30 on the starter" in test.wrong[-1].words


def test_the_second_speed_is_read_on_and_off() -> None:
    off, on = at("two-speed-wipers", "scuttle.wiper-motor:53b", "live")
    assert off.high < 0.2 and off.lamp == "dark"
    assert 10.0 < on.low < on.expected < on.high < 13.0 and on.lamp == "lit"
    assert dict(on.settings)["dash.wiper-switch/wiper"] == "fast"
    fast = [test for test in page("two-speed-wipers").tests if test.settings == on.settings]
    assert on in fast and fast[0].set_words == "the wiper switch to fast"  # the ignition is on already


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("led-rear-lamps", "(S3) is off 'lamp'"),  # the one wire handled at the lamp
        ("two-speed-wipers", "(N2) has a poor joint"),  # the new earth of the motor
        ("fuse-box-without-tap", "(W72) is off 56a"),  # what feeds both main beams
    ],
)
def test_what_no_test_before_has_shown_is_suspected_first(name: str, words: str) -> None:
    wrong = [line.words for test in page(name).tests if test.stage == "live" for line in test.wrong]
    assert any(words in line for line in wrong)


@pytest.mark.parametrize(
    ("name", "tip", "stands"),
    [
        ("ballast-coil", "bay.coil:CB", ", with breaker points closed"),
        ("ballast-coil", "bay.coil.resistor-1:out", ", with breaker points closed"),
    ],
)
def test_what_nobody_sets_is_told_where_the_reading_hangs_on_it(name: str, tip: str, stands: str) -> None:
    on_it = [
        t for t in page(name).tests if tip in (t.at, t.to) and not (t.stage == "dead" and t.expected < 1)
    ]
    assert on_it and all(test.where_words.endswith(stands) for test in on_it)
    wires = [t for t in page(name).tests if t.stage == "dead" and t.expected < 1 and "body" not in t.to]
    assert not [test for test in wires if stands in test.where_words]


@pytest.mark.parametrize("name", ["forestry-ignition", "minibus-electronic-ignition"])
def test_a_case_that_is_bolted_to_the_body_hangs_on_no_contact_behind_it(name: str) -> None:
    on_case = [test for test in page(name).tests if test.stage == "live" and test.to.endswith(":case")]
    assert on_case and not any("breaker points" in test.where_words for test in on_case)


def test_no_lamp_with_a_battery_of_its_own_goes_on_electronics() -> None:
    told = {test.lamp for test in page("led-rear-lamps").tests if test.stage == "dead"}
    assert "none" in told
    assert "none" not in {t.lamp for t in page("two-speed-wipers").tests if t.stage == "dead"}


@pytest.mark.parametrize("name", ["two-speed-wipers", "brighter-headlamps", "dip-relay-five-to-four"])
def test_what_is_good_is_never_called_wrong(name: str) -> None:
    for test in metered(name).page.tests:
        assert test.low <= test.expected <= test.high or isinf(test.expected)
        for wrong in test.wrong:
            assert wrong.high <= test.low or wrong.low >= test.high or isinf(wrong.high), test.id


def test_every_test_is_printed_with_its_box_and_told_as_json() -> None:
    bench = sheet("two-speed-wipers")
    text = as_markdown(bench_sheet(bench))
    tests = page("two-speed-wipers").tests
    assert text.count("reads: ") == len(tests)
    document = bench_json(bench)["meter"]
    assert [test["id"] for test in document["tests"]] == [test.id for test in tests]
    assert document["tests"][0]["wrong"][-1]["high"] is None  # open has no upper end


def test_with_the_positive_pole_earthed_what_has_a_direction_reads_no_minus() -> None:
    on = [
        test for test in page("launch-led-navigation-lamps").tests if test.stage == "live" and test.expected
    ]
    assert [test.at.partition(":")[2] for test in on if test.expected > 1.0] == ["minus"] * 3
    assert all(test.expected > -0.1 for test in on)
    assert on[0].where_words.startswith("black tip on 'minus'")


@pytest.mark.parametrize(
    ("name", "has_ignition"), [("two-speed-wipers", True), ("feed-of-unknown-nature", False)]
)
def test_where_there_is_an_ignition_no_test_lamp_goes_on_it(name: str, has_ignition: bool) -> None:
    vehicle = ground(name)
    told = " ".join(notes(vehicle.wired.loom, vehicle.catalogue.parts))
    assert ("no test lamp and no fingers on coil" in told) is has_ignition


def test_what_returns_to_a_pole_hangs_on_no_sender_there() -> None:
    """Lamps that share a return bar with the tank sender were read "with fuel full"."""
    for job in ("launch-led-navigation-lamps", "launch-bilge-pump"):
        assert not [test for test in page(job).tests if "fuel" in test.where_words]


@pytest.mark.parametrize("name", ["launch-two-speed-wiper", "two-speed-wipers", "two-speed-motor-only"])
def test_between_on_and_off_the_tips_stay_where_they_are(name: str) -> None:
    tests = [test for test in page(name).tests if test.why.startswith("'wipe ")]
    by_load: dict[str, list[str]] = {}
    for test in tests:
        by_load.setdefault(test.why.partition("' on ")[0], []).append(
            test.where_words.partition(", with ")[0]
        )
    assert by_load and all(len(where) == 2 and len(set(where)) == 1 for where in by_load.values())


@pytest.mark.parametrize("name", ["interior-lamp-without-earth", "whole-van"])
def test_a_lamp_behind_a_switch_of_its_own_is_read_across_its_terminals(name: str) -> None:
    """Between B and D, the door open, all of the battery's volts stand, however that switch is set."""
    live = [test for test in at(name, "cab.interior-lamp:B", "live") if test.to == "cab.interior-lamp:D"]
    (on,) = [test for test in live if test.expected > 11.0]
    assert [value for switch, value in on.settings if "door" in switch] == ["open"]


@pytest.mark.parametrize(("name", "is_said"), [("gauge-stabiliser-lost", True), ("two-speed-wipers", False)])
def test_volts_behind_a_stabiliser_may_swing(name: str, is_said: bool) -> None:
    assert is_said == any(
        "a pointer swings and a digital meter jumps: good is then" in note for note in page(name).notes
    )


def test_two_wires_with_a_ring_each_on_one_stud_are_read_one_by_one() -> None:
    for far in ("dash.lighting-switch:A2", "dash.fuse-box:B"):
        own = at("ignition-switch-accessory-drops", far, "dead")
        assert len(own) == 1 and own[0].expected < 0.1
        assert any(isinf(w.high) and f"(W13) to {far[-2:].strip(':')} on" in w.words for w in own[0].wrong)


def test_two_ends_that_cold_lamps_let_pass_and_that_are_a_short_are_looked_at_before_power() -> None:
    (test,) = at("changeover-relay-layout", "front.lamp-relay:87", "dead")
    assert "ohms do not tell whether the black wire (A3) and the violet/blue wire (A4) are traded" in test.why
    ends = page("changeover-relay-layout").ends
    assert [end.partition(" on the")[0] for end in ends] == [
        "the black wire (A3) is on 85",
        "the violet/blue wire (A4) is on 87",
        "the yellow/grey wire (A5) is on 87a",
    ]
    text = as_markdown(bench_sheet(sheet("changeover-relay-layout")))
    assert all(f"- [ ] {end}" in text for end in ends)
    assert not page("two-ends-trade").ends


def test_what_cold_lamps_make_a_little_more_than_good_is_told_beside_the_poor_joint() -> None:
    (test,) = at("two-ends-trade", "right.front:lamp", "dead")
    first = test.wrong[0]
    assert first.low == test.high and "(S4) has a poor joint" in first.words
    assert "(S3) and the turquoise/green wire (S4) are traded" in first.words


def test_where_a_place_is_read_for_its_own_sake_nothing_is_moved_for_it() -> None:
    (test,) = at("key-switch-and-starter-push", "dash.ignition-switch:30", "live")
    assert not test.settings and test.expected > 12.0
