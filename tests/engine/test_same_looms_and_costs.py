"""When two looms are one, and how the minutes of operations add up."""

import pytest
from small_looms import Bench, make_parts

from planner.engine.costs import MINUTES, minutes
from planner.engine.judged import signature
from planner.model.delta import Cover, Move, Piggyback

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
