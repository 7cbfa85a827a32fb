"""What lets an engine crank and fire is tried where the work touched it, and nowhere else."""

from functools import lru_cache

from planned import catalogue

from planner.model.bench_sheet import BenchSheet, Interlock
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.render.markdown import as_markdown


@lru_cache
def sheet(job: str) -> BenchSheet:
    return sheet_job(job, catalogue())


def found(job: str) -> tuple[Interlock, ...]:
    return sheet(job).interlocks


def test_a_gearbox_switch_that_was_exchanged_must_keep_the_engine_from_being_cranked_in_gear() -> None:
    (one,) = found("minibus-inhibitor-start-only")
    assert one.conditions == ("gear",)
    assert one.when == "with the ignition switch at start while gear is at park or neutral"


def test_a_work_elsewhere_in_the_same_vehicle_asks_for_no_such_test() -> None:
    assert found("minibus-alternator-built-in") == ()


def test_a_starter_that_the_key_alone_works_has_nothing_to_be_tried() -> None:
    assert found("ignition-switch-without-accessory") == ()


def test_a_starter_is_tried_with_both_of_the_controls_that_a_work_put_before_it() -> None:
    trial = sheet("key-switch-and-starter-push").engine
    assert trial is not None and trial.sparks and trial.timed == ()
    (crank,) = trial.cranked
    assert crank.starter == "starter solenoid" and crank.is_all
    assert crank.when == "with the ignition switch on and the starter push pressed"
    assert crank.controls == ("the ignition switch", "the starter push")
    assert crank.read_at == ("dash.starter-push:out",)


def test_an_engine_whose_distributor_was_out_is_fired_and_timed() -> None:
    trial = sheet("minibus-electronic-ignition").engine
    assert trial is not None and trial.sparks and trial.timed == ("distributor",) and trial.cranked == ()


def test_an_engine_whose_starter_waits_for_a_gear_has_its_own_trial_and_no_second() -> None:
    assert sheet("minibus-inhibitor-start-only").engine is None


def test_what_has_no_part_in_starting_or_firing_asks_for_no_engine() -> None:
    assert sheet("minibus-alternator-built-in").engine is None
    assert sheet("horn-and-push").engine is None


def test_an_oil_sender_that_was_screwed_in_is_looked_at_while_the_engine_runs() -> None:
    trial = sheet("minibus-oil-gauge-and-sender").engine
    assert trial is not None and trial.oiled == ("oil pressure sender, engine block",)
    assert trial.oil_shown == ("oil pressure gauge, dash",)
    said = as_markdown(bench_sheet(sheet("minibus-oil-gauge-and-sender")))
    start, shown, oil = (said.index(words) for words in ("Start the engine", "Oil pressure at", "Oil at the"))
    assert start < shown < oil
    assert "moves with the engine's speed" in said and "jumps to an end of its scale and stays there" in said
    assert "Do not run the engine like that" not in said


def test_an_oil_gauge_on_a_switch_is_no_pressure_shown_and_no_engine_runs_on_it() -> None:
    bench = sheet("minibus-oil-gauge-on-the-switch")
    assert bench.engine is not None and bench.engine.oil_shown == ()
    assert bench.engine.oil_blind == ("oil pressure gauge, dash",)
    said = as_markdown(bench_sheet(bench))
    told = said.index("Do not run the engine like that: the oil pressure gauge, dash hangs on a switch")
    assert told < said.index("## Cautions") and "Start the engine" not in said
    assert bench.meter is not None
    (swings,) = [note for note in bench.meter.notes if note.startswith("Behind a gauge stabiliser")]
    assert "(the oil pressure gauge, dash has its own inside)" in swings
