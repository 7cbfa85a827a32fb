"""How looms are weighed: the order of severity first, then minutes; and when two looms are one."""

import pytest
from small_looms import Bench, make_parts

from planner.engine.costs import MINUTES, minutes
from planner.engine.judged import fault_weight, signature
from planner.model.delta import Cover, Move, Piggyback
from planner.model.need import Fault

# Most severe first, as the design orders them.
ORDER = [
    Fault("hazard", "short", "fuse:box:1", hazard="short"),
    Fault("unintended", "stop lamp", "rear", "stop"),
    Fault("lost", "stop lamp", "rear", "stop"),
    Fault("changed", "stop lamp", "rear", "stop"),
    Fault("unintended", "radio", "dash"),
    Fault("lost", "radio", "dash"),
    Fault("changed", "radio", "dash"),
]


@pytest.mark.parametrize("index", range(len(ORDER) - 1))
def test_one_graver_fault_outweighs_any_number_of_lighter_ones(index):
    lighter = [fault for fault in ORDER[index + 1 :] for _ in range(50)]
    assert fault_weight([ORDER[index]]) > fault_weight(lighter) > fault_weight([])


def test_accepted_loss_weighs_nothing():
    assert fault_weight([Fault("lost", "radio", "dash", accepted=True)]) == fault_weight([])


def test_fault_in_fewer_positions_weighs_less_and_two_faults_more_than_one():
    half, whole = Fault("lost", "radio", "dash", share=0.5), Fault("lost", "radio", "dash", share=1.0)
    assert fault_weight([half]) < fault_weight([whole]) < fault_weight([half, half])


def test_dead_position_and_missing_wish_count_as_losses_and_not_as_unsafe():
    dead = Fault("hazard", "dead-position", "dash", hazard="dead-position")
    missing = Fault("missing", "radio", "dash")
    lost = Fault("lost", "radio", "dash")
    assert fault_weight([missing]) == fault_weight([lost])
    assert fault_weight([Fault("changed", "radio", "dash")] * 50) < fault_weight([dead])
    assert fault_weight([dead]) < fault_weight([Fault("lost", "radio", "dash", share=0.0)])


@pytest.mark.parametrize("duty", ["head", "tail", "stop", "signal", "hazard"])
def test_lamps_of_the_road_outweigh_the_rest(duty):
    assert fault_weight([Fault("changed", "lamp", "x", duty)]) > fault_weight([Fault("unintended", "x", "y")])
    assert fault_weight([Fault("lost", "wipe", "x", "wiper")]) == fault_weight([Fault("lost", "x", "y")])


LOOM = Bench(
    make_parts('part: {terminals: {a: "30", b: "30"}}'),
    {"p": "part", "q": "part"},
    ["one = p:a > q:a", "two = p:b > q:b"],
)


def test_order_of_wires_and_places_makes_no_other_loom():
    turned = LOOM.changed(places=dict(reversed(LOOM.places.items())), wires=LOOM.wires[::-1])
    assert signature(turned.loom) == signature(LOOM.loom)


@pytest.mark.parametrize(
    "operation",
    [Move("one", 0, "p:a", "p:b", "p:a"), Cover("one", "one", 0), Cover("q:b"), Piggyback("p:a")],
    ids=lambda operation: operation.do,
)
def test_every_operation_makes_another_loom_and_undone_the_same(operation):
    after = operation.apply(LOOM.loom)
    assert signature(after) != signature(LOOM.loom)
    assert signature(operation.undo(after)) == signature(LOOM.loom)


def test_costs_add_up_and_a_job_may_set_its_own():
    operations = (Cover("q:b"), Piggyback("p:a"))
    around = (LOOM.loom, LOOM.loom, LOOM.catalogue)
    usual = minutes(operations, *around, {})
    assert usual == MINUTES["cover"] + MINUTES["piggyback"]
    assert minutes(operations, *around, {"cover": 9.0}) == 9.0 + MINUTES["piggyback"]
