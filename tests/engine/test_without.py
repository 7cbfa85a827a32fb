"""What is left of a plan's steps when one of its swaps is left out."""

import pytest
from planned import catalogue

from planner.engine.without import steps_without
from planner.model.delta import Add, Fit, Make, Move, Operation, Piggyback, Reason, Step, new_end
from planner.model.loom import Place, Wire
from planner.pipeline import plan_fitting

WHY = Reason("a-rule", ())
RELAY = Place(part="relay", zone="dash")


def wire(*ends: str) -> Wire:
    return Wire(
        wire="new", colour=("BK",), mm2=(1.5,), metres=(0.5,), ends=tuple(new_end(end, None) for end in ends)
    )


def left(*operations: Operation, swapped: str = "fan") -> list[Operation] | None:
    steps = steps_without([Step(o, WHY) for o in operations], "fan", frozenset(swapped.split()))
    return None if steps is None else [step.operation for step in steps]


LAMP = Move("W1", 0, "lamp:1", "lamp:2")


def test_what_concerns_another_place_is_left() -> None:
    assert left(LAMP, Move("W2", 0, "fan:1", "fan:2")) == [LAMP]


def test_with_a_wire_goes_what_is_done_to_its_other_end() -> None:
    new = wire("fan:31", "battery:-")
    away = Move("new", 1, "battery:-", "battery:2")
    assert left(Add(new, "31"), Piggyback("battery:-"), LAMP, away, Make(new, new)) == [LAMP]


def test_with_a_move_goes_the_next_of_the_same_end() -> None:
    assert left(Move("W1", 0, "fan:1", "box:2"), Move("W1", 0, "box:2", "lamp:1"), LAMP) == []
    other = Move("W1", 1, "lamp:1", "lamp:2")
    assert left(Move("W1", 0, "fan:1", "box:2"), other) == [other]


def test_a_part_that_was_added_goes_with_the_wire_to_it() -> None:
    feed = wire("box:1", "relay:30")
    assert left(Add(wire("relay:87", "fan:15"), "15"), Fit("relay", RELAY), Add(feed, "30"), LAMP) == [LAMP]


@pytest.mark.parametrize("other", ["lamp:1", "joint:battery.-"])
def test_a_step_shared_with_another_swap_or_a_joiner_is_not_told_apart(other: str) -> None:
    assert left(Add(wire("fan:31", other), "31"), LAMP, swapped="fan lamp") is None


def test_a_fan_on_a_relay_of_its_own_leaves_nothing_when_the_old_one_is_kept() -> None:
    parts = catalogue()
    old, new = parts.parts["heater-fan"], parts.parts["electric-fan-220"]
    plan, _ = plan_fitting(old, new, "skarrow-8-doors", "dash.heater-fan", parts)
    kept = [a for a in plan.alternatives if a.because == "keep-the-old-part"]
    assert any(step.do == "fit" and "relay" in step.text for step in plan.steps)
    assert [(a.minutes, a.loses) for a in kept] == [(0.0, ())]
