"""A part exchanged for another: only where each end finds its terminal and nothing lacks what it needs."""

from typing import Any

import pytest
from small_looms import ROLES, Bench, make_parts

from planner.engine.case import Case
from planner.engine.exchanging import exchange, parts_that_take_the_wires
from planner.model.catalogue import Catalogue
from planner.model.delta import Fit, Move, Operation, Piggyback, Remove
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.need import Fitted

PARTS = make_parts(
    """
    old: {terminals: {B: "49", L: "49a"}}
    alike: {terminals: {B: "49", L: "49a"}}
    other-marks: {terminals: {"49": "49", "49a": "49a"}}
    other-fitting: {terminals: {B: {role: "49", fitting: bullet}, L: "49a"}}
    no-output: {terminals: {B: "49"}}
    earthed: {terminals: {B: "49", L: "49a", case: mounting}}
    wants-live: {terminals: {B: "49", L: "49a", "30": "30"}}
    lamp: {terminals: {f: L, case: mounting}, inside: [{lamp: {between: [f, case], watts: 21, does: lamp}}]}
    """
)


def case(*, mounting: str = "metal", swapped: bool = False) -> Case:
    bench = Bench(
        PARTS,
        {"f": f"old!{mounting}", "lamp": "lamp"},
        ["feed:i > f:B", "f:L > lamp:f"],
        {"i": {"role": "15"}},
    )
    swaps: list[dict[str, Any]] = [{"at": "f", "fit": "alike"}] if swapped else []
    job = Job.model_validate({"job": "j", "loom": "small", "swaps": swaps})
    return Case(Fitted("f"), bench.loom, bench.loom, Catalogue(ROLES, {}, PARTS, {}, {}, {}), job, Facts())


def done(operations: tuple[Operation, ...]) -> set[tuple[str, str]]:
    """Where each end goes."""
    return {(o.wire, o.to) for o in operations if isinstance(o, Move)}


def test_each_end_goes_on_the_terminal_of_its_mark_and_role() -> None:
    operations = exchange(case(), "f", PARTS["alike"])
    assert [type(o) for o in operations[:2]] == [Remove, Fit]
    assert done(operations) == {("W1", "f:B"), ("W2", "f:L")}


def test_other_marks_are_found_by_their_role() -> None:
    assert done(exchange(case(), "f", PARTS["other-marks"])) == {("W1", "f:49"), ("W2", "f:49a")}


def test_done_and_undone_the_loom_is_as_it_was() -> None:
    before = case().loom
    after = before
    operations = exchange(case(), "f", PARTS["other-marks"])
    for operation in operations:
        after = operation.apply(after)
    assert after.places["f"].part == "other-marks" and set(after.ends_at) >= {"f:49", "f:49a"}
    for operation in reversed(operations):
        after = operation.undo(after)
    assert (after.places, after.wires) == (before.places, before.wires)


@pytest.mark.parametrize("part", ["other-fitting", "no-output", "wants-live"])
def test_what_does_not_take_every_end_or_would_lack_something_is_no_exchange(part: str) -> None:
    assert exchange(case(), "f", PARTS[part]) == ()


def test_an_earth_by_the_mounting_needs_metal() -> None:
    assert exchange(case(), "f", PARTS["earthed"])
    assert exchange(case(mounting="insulated"), "f", PARTS["earthed"]) == ()


def test_the_parts_of_its_family_that_can_stand_there_are_told() -> None:
    found = {part.part for part, _ in parts_that_take_the_wires(case(), "f")}
    assert found == {"alike", "other-marks", "earthed"}


def test_what_the_job_fits_is_not_overruled() -> None:
    assert list(parts_that_take_the_wires(case(swapped=True), "f")) == []


def test_a_piggyback_comes_off_with_the_part() -> None:
    shown = case()
    loom = Piggyback("f:B").apply(shown.loom)
    fitted = Case(shown.need, loom, loom, shown.catalogue, shown.job, shown.facts)
    after = loom
    for operation in exchange(fitted, "f", PARTS["alike"]):
        after = operation.apply(after)
    assert after.piggybacks == ()
