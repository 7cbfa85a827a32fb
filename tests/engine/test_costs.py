"""What work costs: bench minutes by kind, by the metre, by the part, or as the job says."""

import pytest
from choice import Bench, make_part

from planner.engine.costs import (
    MINUTES,
    MINUTES_A_METRE,
    MINUTES_BEHIND_TRIM,
    MINUTES_FROM_STOCK,
    minutes,
)
from planner.model.delta import (
    Add,
    ChangeFuse,
    Cover,
    Cut,
    Extend,
    Fit,
    Hold,
    Join,
    Make,
    Move,
    Operation,
    Piggyback,
    ReEnd,
    Remove,
    Renew,
    new_end,
    operation_words,
)
from planner.model.loom import Place, Wire

BENCH = Bench("AB", homes={"A": ["x"], "B": ["y"]})
PLACE = Place(part="new", zone="zone")
WIRE = Wire.model_validate({"wire": "new-1", "colour": "BK", "mm2": 1, "metres": 1, "ends": ["p:a", "p:b"]})
PLAIN: tuple[Operation, ...] = (
    Remove("p", PLACE, ()),
    Move("A", 0, "p:a", "p:x"),
    Cover("p:a", "A", 0),
    Cut("A", 0, "p:a", WIRE),
    Piggyback("p:x"),
    Join((("A", 0, "p:a"), ("B", 0, "p:b")), "joint:one"),
    ReEnd("A", 0, "p:x", "blade-6.3", None),
    Extend("A", 0, "p:x", 0.5, 0.05, (1.0,)),
    Hold("A", 0, "p:a"),
    ChangeFuse("p:x", 10, 25),
)


def cost(*operations: Operation, loom: object = None, **own: float) -> float:
    there = loom or BENCH.loom
    return minutes(operations, there, there, BENCH.catalogue, own)  # type: ignore[arg-type]


@pytest.mark.parametrize("operation", PLAIN, ids=lambda operation: operation.do)
def test_each_kind_costs_its_minutes_or_the_job_s_own(operation: Operation) -> None:
    assert cost(operation) == MINUTES[operation.do]
    assert cost(operation, **{operation.do: 99.0}) == 99.0


def test_every_kind_of_operation_has_its_minutes() -> None:
    assert set(MINUTES) == {kind.do for kind in Operation.__subclasses__()}
    assert all(spent >= 0 for spent in MINUTES.values())


def test_several_operations_add_up() -> None:
    assert cost(*PLAIN) == sum(MINUTES[operation.do] for operation in PLAIN)
    assert cost() == 0


def test_a_part_says_how_long_it_takes_to_fit_unless_the_job_does() -> None:
    BENCH.parts["slow"] = make_part("slow", "x").model_copy(update={"minutes": 45.0})
    fit = Fit("p", PLACE.model_copy(update={"part": "slow"}))
    assert cost(fit) == 45
    assert cost(fit, fit=5.0) == 5


def test_a_new_wire_costs_by_its_length_and_more_behind_trim() -> None:
    zones = {"zones": {"here": {}, "there": {}}, "wires": [], "places": {}}
    shown = {"from": "here", "to": "there", "metres": 2}
    base = {"loom": "l", "supply": {"volts": 12, "earthed": "negative"}, **zones}
    add = Add(
        WIRE.model_copy(update={"ends": (new_end("earth:here", None), new_end("earth:there", None))}), None
    )
    open_way = type(BENCH.loom).model_validate({**base, "routes": [shown]})
    trim = type(BENCH.loom).model_validate({**base, "routes": [{**shown, "behind_trim": True}]})
    near = add.wire.model_copy(update={"ends": (new_end("earth:here", None), new_end("earth:here", None))})
    short, long = cost(Add(near, None), loom=open_way), cost(add, loom=open_way)
    assert long - short == pytest.approx(MINUTES_A_METRE * 2 * 1.15)
    assert cost(add, loom=trim) - long == pytest.approx(MINUTES_BEHIND_TRIM)
    assert cost(add, loom=open_way, add=0.0) == pytest.approx(long - MINUTES["add"])


def test_a_thicker_wire_costs_by_the_metres_of_the_legs_that_are_laid_and_more_behind_trim() -> None:
    ends = ["earth:here", "earth:there", "earth:here"]
    wire = {"wire": "C", "colour": "BK", "mm2": 1, "metres": [3, 2], "ends": ends}
    base = {
        "loom": "l", "supply": {"volts": 12, "earthed": "negative"},
        "zones": {"here": {}, "there": {}}, "wires": [wire],
    }  # fmt: skip
    shown = {"from": "here", "to": "there", "metres": 9}
    open_way = type(BENCH.loom).model_validate({**base, "routes": [shown]})
    trim = type(BENCH.loom).model_validate({**base, "routes": [{**shown, "behind_trim": True}]})
    second = Renew("C", 1, 2, 2.5, (1.0,), ("earth:there", "earth:here"))
    whole = Renew("C", 0, 2, 2.5, (1.0,), ("earth:here", "earth:here"))
    assert cost(second, loom=open_way) == MINUTES["renew"] + MINUTES_A_METRE * 2
    assert cost(whole, loom=open_way) == MINUTES["renew"] + MINUTES_A_METRE * 5
    assert cost(whole, loom=trim) == cost(whole, loom=open_way) + MINUTES_BEHIND_TRIM
    assert cost(whole, loom=open_way, renew=0.0) == MINUTES_A_METRE * 5


def test_a_finished_lead_saves_the_crimping() -> None:
    assert cost(Make(WIRE, WIRE, lead=0)) == MINUTES["make"] + MINUTES_FROM_STOCK < cost(Make(WIRE, WIRE))


def test_the_job_s_own_minutes_turn_the_choice() -> None:
    """Lengthening x is dearer than going to y, until the job says that it is not."""
    ways = {"A": ["x+", "y"]}
    assert Bench(homes=ways).chosen() == {"A": "y"}
    bench = Bench(homes={"A": ["x+", "y"]}, own_minutes={"extend": 0.0, "move": 0.0})
    assert bench.settle().chosen.candidate.minutes == MINUTES["remove"] + bench.parts["new"].minutes


def test_every_operation_has_its_minutes_by_the_word_that_a_job_may_use() -> None:
    assert operation_words() == set(MINUTES)
