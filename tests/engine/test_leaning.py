"""What a settled plan leans on without anybody having seen or measured it."""

from collections.abc import Mapping
from typing import Any

import pytest
from small_looms import make_parts

from planner.engine.leaning import leaned_on
from planner.model.delta import Add, Cover, Join, Move, Operation, Piggyback, Reason, Step, new_end
from planner.model.job import Job
from planner.model.loom import Loom, Wire
from planner.model.need import LeansOn

LOOM: Mapping[str, Any] = {
    "loom": "tiny",
    "supply": {"volts": 12, "earthed": "negative"},
    "zones": {"z": {}},
    "places": {"p": {"part": "old", "zone": "z"}, "q": {"part": "other", "zone": "z"}},
    "wires": [
        {"wire": "A", "colour": "RD", "mm2": 1, "metres": 1, "ends": ["p:a", "q:a"], "known": "assumed"},
        {"wire": "B", "colour": "BK", "mm2": 1, "metres": 1, "ends": ["p:b", "unknown"], "known": "seen"},
        {"wire": "C", "colour": "GN", "mm2": 1, "metres": 1, "ends": ["p:c", "q:c"], "known": "measured"},
        {"wire": "D", "colour": "YE", "mm2": 1, "metres": 1, "ends": ["q:a", "q:d"], "known": "drawing"},
    ],
}
NEW = Wire.model_validate({"wire": "new-1", "colour": "BK", "mm2": 1, "metres": 1, "ends": ["q:d", "p:x"]})

PARTS = make_parts(
    """
    contact: {terminals: {a: "", c: ""}, inside: [{contact: {join: [a, c], when: {pedal: down}}}]}
    other-contact: {terminals: {x: "", y: ""}, inside: [{contact: {join: [x, y], when: {pedal: down}}}]}
    three-way: {terminals: {x: "", y: "", z: ""}, inside: [{contact: {join: [x, y], when: {pedal: down}}}]}
    """
)


def leans(*operations: Operation, swap: Mapping[str, Any] | None = None, **place: Any) -> tuple[LeansOn, ...]:
    data = {**LOOM, "places": {**LOOM["places"], "p": {**LOOM["places"]["p"], **place}}}
    swaps = [{"at": "p", "fit": "new", **(swap or {})}]
    job = Job.model_validate({"job": "j", "loom": "tiny", "swaps": swaps})
    steps = tuple(Step(operation, Reason("rule", ("fact",))) for operation in operations)
    return leaned_on(Loom.model_validate(data), steps, job, PARTS)


def test_a_plan_on_measured_seen_and_drawn_facts_leans_on_nothing() -> None:
    assert leans(Move("C", 0, "p:c", "p:x"), Move("D", 1, "q:d", "p:y")) == ()


@pytest.mark.parametrize(
    "operation",
    [Move("A", 0, "p:a", "p:x"), Cover("p:a", "A", 0), Join((("A", 0, "p:a"), ("C", 0, "p:c")), "joint:one")],
    ids=lambda operation: operation.do,
)
def test_a_step_on_an_assumed_wire_leans_on_it_at_the_end_it_handles(operation: Operation) -> None:
    assert leans(operation) == (LeansOn("p:a", "A", 0),)


def test_a_step_on_a_wire_that_goes_nobody_knows_where_leans_on_the_unknown_end() -> None:
    assert leans(Move("B", 0, "p:b", "p:x")) == (LeansOn("unknown", "B", 1),)


def test_a_new_wire_leans_on_every_assumed_wire_of_the_conductor_it_is_taken_from() -> None:
    found = leans(Add(NEW, "30"))
    assert {(need.wire, need.at) for need in found} == {("A", "p:a"), ("A", "q:a")}


def test_a_new_wire_from_a_conductor_that_is_known_leans_on_nothing() -> None:
    wire = NEW.model_copy(update={"ends": (new_end("q:c", None), new_end("p:x", None))})
    assert leans(Add(wire, "30")) == ()


def test_each_fact_is_asked_for_once_in_the_order_of_the_steps() -> None:
    steps = (Move("B", 0, "p:b", "p:x"), Move("A", 0, "p:a", "p:y"), Cover("p:a", "A", 0))
    assert [need.wire for need in leans(*steps)] == ["B", "A"]


def test_what_no_step_touches_is_not_asked_for() -> None:
    assert leans(Piggyback("p:x"), Cover("p:z")) == ()


def test_a_swapped_place_that_is_only_assumed_is_asked_for() -> None:
    assert leans(known="assumed") == (LeansOn("p"),)
    assert leans(swap={"known": "assumed"}) == (LeansOn("p"),)
    assert leans(known="seen") == ()


def test_a_new_wire_on_a_free_terminal_of_a_part_nobody_has_seen_leans_on_that_terminal() -> None:
    there = {**LOOM, "places": {**LOOM["places"], "q": {"part": "other", "zone": "z", "known": "assumed"}}}
    job = Job.model_validate({"job": "j", "loom": "tiny", "swaps": [{"at": "p", "fit": "new"}]})
    new = Wire.model_validate(
        {"wire": "new-1", "colour": "BK", "mm2": 1, "metres": 1, "ends": ["q:free", "p:x"]}
    )
    steps = (Step(Add(new, None), Reason("rule", ("fact",))),)
    assert leaned_on(Loom.model_validate(there), steps, job, PARTS) == (LeansOn("q:free"),)
    assert leaned_on(Loom.model_validate(LOOM), steps, job, PARTS) == ()


CROSSED = (Move("A", 0, "p:a", "p:y"), Move("C", 0, "p:c", "p:x"))


def test_what_goes_from_one_plain_contact_to_another_leans_on_nothing_whichever_way_round() -> None:
    swap = {"fit": "other-contact"}
    assert leans(*CROSSED, swap=swap, part="contact") == ()
    assert leans(Move("A", 0, "p:a", "p:x"), Move("C", 0, "p:c", "p:y"), swap=swap, part="contact") == ()


@pytest.mark.parametrize(
    ("steps", "old", "new"),
    [
        (CROSSED, "contact", "three-way"),
        (CROSSED, "three-way", "other-contact"),
        ((Move("A", 0, "p:a", "p:y"), Move("C", 0, "p:c", "p:y")), "contact", "other-contact"),
        ((Move("A", 0, "p:a", "joint:j"), Move("C", 0, "p:c", "p:y")), "contact", "other-contact"),
    ],
    ids=["the new part has more", "the old part had more", "both on one side", "one goes elsewhere"],
)
def test_where_it_matters_which_is_which_an_assumed_wire_is_asked_about(
    steps: tuple[Move, ...], old: str, new: str
) -> None:
    assert leans(*steps, swap={"fit": new}, part=old) == (LeansOn("p:a", "A", 0),)
