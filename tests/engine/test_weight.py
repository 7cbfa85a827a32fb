"""The order of severity: unsafe; road lamps unintended, lost, changed; then the rest; then cost."""

from dataclasses import replace

import pytest
from choice import lost

from planner.engine.weight import weigh
from planner.model.elements import ROAD_DUTIES
from planner.model.need import Fault
from planner.model.strain import Strain


def fault(kind: str, duty: str = "none", **fields: object) -> Fault:
    return Fault(kind, "lamp", "p", duty, **fields)  # type: ignore[arg-type]


# Heaviest first: one of each class outweighs any number of the next.
ORDER = (
    fault("hazard", hazard="short"),
    fault("unintended", "stop"),
    lost("lamp", "head"),
    fault("changed", "tail"),
    fault("unintended"),
    lost("lamp"),
    fault("changed"),
    fault("unused"),
)


@pytest.mark.parametrize("number", range(len(ORDER) - 1))
def test_one_fault_of_a_class_outweighs_many_of_the_next(number: int) -> None:
    assert weigh([ORDER[number]]) > weigh([ORDER[number + 1]] * 20)


def test_what_runs_backwards_weighs_as_what_nobody_wants() -> None:
    strain = Strain("reversed", "fan", 12.0, 0.0, "V", "direction of the part", "invented", {})
    assert weigh([fault("strain", strain=strain)]) == weigh([fault("unintended")])


def test_a_battery_that_is_no_longer_charged_weighs_as_lost_road_lamps() -> None:
    strain = Strain(
        "not-charging", "dynamo", 0.0, 1.0, "A", "common practice, no source", "", {}, is_least=True
    )
    assert weigh([fault("strain", strain=strain)]) == weigh([lost("lamp", "head")])


@pytest.mark.parametrize("duty", ["head", "tail", "stop", "signal", "hazard"])
def test_road_lamps_outweigh_everything_else_but_what_is_unsafe(duty: str) -> None:
    assert duty in ROAD_DUTIES
    assert weigh([fault("changed", duty)]) > weigh([fault("unintended", "horn")] * 20)
    assert weigh([fault("unintended", duty)]) < weigh([fault("hazard", hazard="drain")])


@pytest.mark.parametrize("duty", ["horn", "wiper", "none"])
def test_other_duties_count_with_the_rest(duty: str) -> None:
    assert weigh([lost("x", duty)]) == weigh([lost("x")])


@pytest.mark.parametrize(
    "hazard", ["short", "feeds-tied", "live-loose-end", "bare-live-terminal", "back-feed", "drain", "chatter"]
)
def test_every_hazard_but_a_dead_position_is_unsafe(hazard: str) -> None:
    assert weigh([fault("hazard", hazard=hazard)]).unsafe > 0


def test_a_dead_position_is_not_unsafe_and_less_than_any_loss_of_what_worked() -> None:
    dead = weigh([fault("hazard", hazard="dead-position")])
    assert weigh([fault("changed")] * 20) < dead < weigh([replace(lost("lamp"), share=0.0)])


def test_a_wish_not_met_counts_as_a_loss() -> None:
    assert weigh([fault("missing")]) == weigh([lost("lamp")])


def test_within_a_class_more_faults_and_more_positions_weigh_more() -> None:
    assert weigh([lost("a"), lost("b")]) > weigh([lost("a")])
    assert weigh([lost("a", share=0.5)]) > weigh([lost("a", share=0.25)])
    assert weigh([lost("a", share=0.1), lost("b", share=0.1)]) > weigh([lost("a", share=1.0)])


@pytest.mark.parametrize("what", ORDER)
def test_an_accepted_fault_weighs_nothing(what: Fault) -> None:
    fields = {name: getattr(what, name) for name in ("kind", "what", "at", "duty", "hazard")}
    assert weigh([Fault(**fields, accepted=True)]) == weigh([])


def test_the_order_of_the_faults_does_not_matter() -> None:
    assert weigh(ORDER) == weigh(ORDER[::-1])


def test_minutes_decide_between_equal_faults_and_are_asked_for_by_name() -> None:
    quick, slow = weigh([fault("unused")], 5.0), weigh([fault("unused")], 7.5)
    assert quick < slow < weigh([lost("lamp")], 1.0)
    assert quick.faults == slow.faults != weigh([]).faults
    assert slow.minutes == 7.5


def test_what_is_never_traded_and_what_is_wrong_in_use() -> None:
    signal, wears = fault("unintended", "stop"), fault("unused")
    assert weigh([signal]).danger > weigh([lost("lamp", "head"), wears]).danger == weigh([]).danger
    assert weigh([lost("lamp")]).losses > weigh([wears]).losses == weigh([]).losses
