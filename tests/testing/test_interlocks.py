"""What keeps a starter from cranking is tried where the work touched it, and nowhere else."""

from functools import lru_cache

from planned import catalogue

from planner.model.bench_sheet import Interlock
from planner.sheet_pipeline import sheet_job


@lru_cache
def found(job: str) -> tuple[Interlock, ...]:
    return sheet_job(job, catalogue()).interlocks


def test_a_gearbox_switch_that_was_exchanged_must_keep_the_engine_from_being_cranked_in_gear() -> None:
    (one,) = found("minibus-inhibitor-start-only")
    assert one.conditions == ("gear",)
    assert one.when == "with the ignition switch at start while gear is at park or neutral"


def test_a_work_elsewhere_in_the_same_vehicle_asks_for_no_such_test() -> None:
    assert found("minibus-alternator-built-in") == ()


def test_a_starter_that_the_key_alone_works_has_nothing_to_be_tried() -> None:
    assert found("ignition-switch-without-accessory") == ()
