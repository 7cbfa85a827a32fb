"""First power, starting and charging on the sheet: boxes to tick, and words that go with the vehicle."""

from dataclasses import replace
from functools import lru_cache

import pytest
from planned import catalogue

from planner.model.bench_sheet import BenchSheet
from planner.model.elements import Control
from planner.model.part import Part
from planner.model.vehicle_kind import having
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.build.bench_engine import engine_tests
from planner.sheets.build.bench_power import first_power
from planner.sheets.build.bench_undo import way_back
from planner.sheets.render.markdown import as_markdown
from planner.sheets.sheet import Item, Listing


@lru_cache
def sheet(job: str) -> BenchSheet:
    return sheet_job(job, catalogue())


def power(job: str) -> list[Item]:
    listing = next(block for block in first_power(sheet(job)) if isinstance(block, Listing))
    return list(listing.items)


def engine(job: str) -> list[Item]:
    return [item for b in engine_tests(sheet(job)) if isinstance(b, Listing) for item in b.items]


@pytest.mark.parametrize(
    ("job", "wire"), [("tractor-to-12-volts", "(T12) off 15"), ("car-to-negative-earth", "(C12) off A")]
)
def test_what_an_unsafe_sheet_demands_has_a_box_before_the_battery_goes_on(job: str, wire: str) -> None:
    texts = [item.body.text for item in power(job)]
    box = next(n for n, text in enumerate(texts) if wire in text)
    assert power(job)[box].tick and box < next(n for n, text in enumerate(texts) if "in series" in text)


def test_a_plan_that_is_safe_demands_nothing_more() -> None:
    assert not any("Before the battery goes on" in item.body.text for item in power("dynamo-to-alternator"))


@pytest.mark.parametrize("job", ["car-to-negative-earth", "launch-to-negative-earth"])
def test_the_dynamo_is_polarised_at_full_power_before_anything_turns_the_engine(job: str) -> None:
    *_, lamp_out, polarise, again = power(job)
    assert "the lamp out" in lamp_out.body.text and "full power" not in lamp_out.body.text
    assert polarise.body.text.startswith("Before the engine turns, polarise the dynamo") and polarise.tick
    assert again.body.text.startswith("Try everything again at full power")
    said = as_markdown(bench_sheet(sheet(job)))
    assert said.count("Before the engine turns, polarise") == 2  # here, and on the way back
    turning = [said.find(words) for words in ("the engine turns: out of gear", "Start the engine")]
    assert all(at < 0 or said.index("Before the engine turns, polarise") < at for at in turning)
    assert turning[1] > 0


@pytest.mark.parametrize(
    ("job", "said"),
    [
        ("key-switch-and-starter-push", "crank only out of gear, brake on"),
        ("launch-horn", "crank only out of gear, hands, hair and leads clear of belts and shaft"),
        ("stronger-foot-heater", ""),  # a loom without a starter
    ],
)
def test_what_cranks_is_tried_out_of_gear(job: str, said: str) -> None:
    again = next(i.body.text for i in power(job) if i.body.text.startswith("Try everything again"))
    assert again.endswith("at full power") if not said else said in again


@pytest.mark.parametrize(
    ("job", "waits"), [("minibus-inhibitor-start-only", True), ("two-speed-wipers", False)]
)
def test_nobody_cranks_before_the_starter_was_read_dead_in_gear(job: str, waits: bool) -> None:
    assert ("do not crank yet" in power(job)[-1].body.text) == waits


@pytest.mark.parametrize(("job", "is_told"), [("minibus-radio", True), ("hauler-to-12-volts", False)])
def test_a_coil_behind_closed_points_is_not_called_a_short(job: str, is_told: bool) -> None:
    has_points = "breaker points" in sheet(job).after.conditions
    said = as_markdown(bench_sheet(sheet(job)))
    assert has_points == is_told == ("lights the lamp: that is no short" in said)


@pytest.mark.parametrize(("job", "is_told"), [("whole-van", True), ("minibus-radio", False)])
def test_a_motor_that_runs_home_is_not_called_a_short(job: str, is_told: bool) -> None:
    assert is_told == ("may not be at its park place yet" in as_markdown(bench_sheet(sheet(job))))
    back = [line.text for line in sheet(job).undo if "Put the old part back at the wiper motor" in line.text]
    assert len(back) == is_told and all("; its arms off until it has run" in text for text in back)


def test_the_charge_is_read_with_the_engine_running() -> None:
    start, _, volts = engine("car-to-negative-earth")
    assert start.body.text.startswith("Start the engine")
    assert volts.write_in and "13.6 to 14.8 V" in volts.below[0].text
    assert "red tip on the plus post" in volts.body.text
    ticks = [item.tick for item in (start, volts)]
    assert all(tick.startswith("#") for tick in ticks) and len(set(ticks)) == 2


def test_an_engine_that_must_not_crank_in_gear_is_tried_in_gear() -> None:
    (only,) = engine("minibus-inhibitor-start-only")
    assert only.tick and "while gear is at park or neutral, and else it must not" in only.body.text


def test_an_engine_that_was_timed_is_fired_and_timed_again_on_both_ways() -> None:
    start, fires, timed = engine("minibus-electronic-ignition")
    assert start.body.text.startswith("Start the engine in the open, out of gear, brake on")
    assert "with the key off it stops at once" in fires.body.text and fires.tick and len(fires.below) == 4
    assert "ignition timing at the distributor" in timed.body.text and timed.tick
    back = as_markdown(bench_sheet(sheet("minibus-electronic-ignition"))).partition("## The way back")[2]
    assert back.index("mark how the rotor points") < back.index("Take out the distributor")


def test_a_starter_push_cranks_with_the_key_and_not_without() -> None:
    cranks, start, fires = engine("key-switch-and-starter-push")
    assert cranks.body.text.startswith("In the open, wheels chocked")
    assert "leads clear of belt and fan" in cranks.body.text and "Out of gear" in cranks.body.text
    assert (
        "with only one of the ignition switch and the starter push set so it stays dead" in cranks.body.text
    )
    assert "battery off at once" in cranks.below[0].text
    assert start.body.text.startswith("Start the engine") and len(fires.below) == 3


@pytest.mark.parametrize("job", ["minibus-inhibitor-start-only", "two-speed-wipers"])
def test_behind_the_lamp_nobody_waits_for_a_starter_that_turns(job: str) -> None:
    *_, listing = (block for block in first_power(sheet(job)) if isinstance(block, Listing))
    said = " ".join(cell.text for item in listing.items for cell in (item.body, *item.below))
    assert "), out of gear: behind the lamp it clicks at the most" in said


def test_what_has_nothing_to_do_with_the_engine_has_no_such_section() -> None:
    assert engine_tests(sheet("three-terminal-flasher")) == ()


def test_a_boat_has_no_wheels_to_chock_no_doors_to_shut_and_goes_on_no_road() -> None:
    boat, car = sheet("launch-horn-earthed-by-body"), sheet("car-to-negative-earth")
    assert len(boat.plan.cautions) == len(car.plan.cautions) == 12
    told = [*boat.plan.cautions, *(item.body.text for item in power("launch-horn-earthed-by-body"))]
    assert not any(word in text for text in told for word in ("chock", "doors", "road", "pedals"))
    assert any("bilge" in text for text in boat.plan.cautions)
    assert any("chock the wheels" in text for text in car.plan.cautions)
    assert any("doors shut" in item.body.text for item in power("car-to-negative-earth"))


def test_a_tractor_and_a_trailer_have_wheels_and_no_doors() -> None:
    assert [having(kind)[:2] for kind in ("car", "tractor", "trailer", "boat")] == [
        (True, True), (True, False), (True, False), (False, False)
    ]  # fmt: skip
    assert not any("doors" in item.body.text for item in power("tractor-to-12-volts"))


@pytest.mark.parametrize(
    ("job", "post", "lines"),
    [
        ("car-to-negative-earth", "the plus post, the earthed one", 2),
        ("three-terminal-flasher", "minus post", 1),
    ],
)
def test_the_way_back_ends_with_first_power_and_the_pole_that_is_earthed_again(
    job: str, post: str, lines: int
) -> None:
    bench = sheet(job)
    section = way_back(bench)[-1]
    (items,) = [block.items for block in section.blocks if isinstance(block, Listing)]
    last = items[len(bench.undo) :]
    assert len(last) == lines and post in last[0].body.text and all(item.tick for item in last)
    assert (lines == 2) == last[-1].body.text.startswith("Before the engine turns, polarise the dynamo")


@pytest.mark.parametrize(
    ("job", "is_said"),
    [
        ("launch-led-lamps", True),
        ("launch-horn-earthed-by-body", True),
        ("car-to-negative-earth", False),  # it was so, and is not when the work is done
        ("two-speed-wipers", False),
    ],
)
def test_that_the_feeds_are_minus_is_said_where_the_positive_pole_is_earthed(job: str, is_said: bool) -> None:
    said = as_markdown(bench_sheet(sheet(job)))
    assert ("every feed is minus" in said) is is_said
    assert ("ask its maker before it is fed whether it works either way round, unless" in said) is is_said


def test_a_relay_with_a_control_that_stays_where_it_is_put_is_not_waited_for() -> None:
    bench = sheet("48-minibus-courtesy-delay")
    delay = bench.parts["courtesy-delay"]
    inside = [e.model_copy(update={"runs_out": False}) if isinstance(e, Control) else e for e in delay.inside]
    knob = Part.model_construct(**{**dict(delay), "inside": tuple(inside)})
    told, instead = first_power(bench), first_power(replace(bench, parts={**bench.parts, delay.part: knob}))
    assert "until it has run out" in str(told)
    assert "until it has run out" not in str(instead)
