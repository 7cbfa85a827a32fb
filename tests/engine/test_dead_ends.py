"""A new wire in which no current can flow in any position is found, and one that serves something is not."""

import pytest
from small_looms import Bench, make_parts

from planner.engine.dead_ends import dead_ends
from planner.engine.without import steps_without_wire
from planner.model.delta import Add, Join, Move, Operation, Piggyback, Reason, Step

PARTS = make_parts(
    """
    push: {terminals: {a: "", b: ""}, inside: [{contact: {join: [a, b], when: {pedal: down}}}]}
    lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 5, does: shine}}]}
    held:
      terminals: {i: "", o: "", e: "31"}
      inside: [{stabiliser: {between: [i, o], earth: e, volts: 10}}]
    horn: {terminals: {a: "", case: mounting}, inside: [{lamp: {between: [a, case], watts: 36, does: sound}}]}
    """
)
FEEDS = {"live": {"role": "30"}}
PEDAL = {"pedal": ["up", "down"]}


def _bench(places: dict[str, str], *wires: str) -> Bench:
    return Bench(PARTS, places, wires, FEEDS, PEDAL)


def _dead(places: dict[str, str], *wires: str) -> list[str]:
    """Which wires called "new" lead nowhere; the others were there before."""
    after = _bench(places, *wires)
    before = _bench(places, *(text for text in wires if not text.startswith("new")))
    return [wire.wire for wire in dead_ends(before.loom, after.loom, after.catalogue)]


@pytest.mark.parametrize(
    ("places", "wires"),
    [
        ({"p": "push"}, ("new = p:b > earth",)),
        ({"p": "push"}, ("old = p:a > loose", "new = p:b > earth")),
        ({"p": "push", "l": "lamp"}, ("new = feed:live > p:a", "old = p:b > l:a")),
        ({"h": "horn!insulated"}, ("new = feed:live > h:a",)),
    ],
    ids=["one side alone", "the other tied back", "a lamp without earth", "an insulated horn"],
)
def test_a_wire_to_what_gets_to_no_other_pole_leads_nowhere(places: dict[str, str], wires: list[str]) -> None:
    assert _dead(places, *wires) == ["new"]


@pytest.mark.parametrize(
    ("places", "wires"),
    [
        ({"p": "push"}, ("old = feed:live > p:a", "new = p:b > earth")),
        ({"p": "push"}, ("old = p:a > unknown", "new = p:b > earth")),
        ({"h": "horn"}, ("new = feed:live > h:a",)),
        ({"h": "horn!doubtful"}, ("new = feed:live > h:a",)),
        ({"s": "held"}, ("old = feed:live > s:i", "new = s:e > earth")),
        ({"p": "push"}, ("old = p:b > earth",)),
    ],
    ids=["a switch", "an end nobody has seen", "its mounting", "perhaps its mounting", "a third node", "old"],
)
def test_a_wire_that_can_carry_something_is_none(places: dict[str, str], wires: list[str]) -> None:
    assert _dead(places, *wires) == []


def test_with_a_wire_go_its_steps_and_the_piggyback_that_only_it_wants() -> None:
    loom = _bench({"p": "push", "l": "lamp"}, "new = p:b > l:a", "more = p:a > l:a", "third = p:a > l:b").loom
    new, more, third = (loom.find(name) for name in ("new", "more", "third"))

    def without(*operations: Operation) -> list[Operation] | None:
        steps = tuple(Step(operation, Reason("rule", ("fact",))) for operation in operations)
        left = steps_without_wire(steps, new)
        return None if left is None else [step.operation for step in left]

    other = Move("old", 0, "p:a", "l:b")
    assert without(Piggyback("l:a"), Add(new, None), other) == [other]
    assert without(Piggyback("l:a"), Add(new, None), Add(more, None)) == [Piggyback("l:a"), Add(more, None)]
    assert without(Piggyback("l:a"), Add(new, None), Add(third, None)) == [Add(third, None)]
    assert without(Add(new, None), Join((("new", 0, "p:b"), ("old", 0, "p:a")), "joint:one")) is None
