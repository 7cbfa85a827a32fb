"""What is said to stay live can be fed in some position; what cannot be is not said to."""

import pytest
from small_looms import Bench, make_parts

from planner.model.still_live import may_be_live

PARTS = make_parts("""
lamp: {terminals: {"58": "58", "31": "31"},
       inside: [{lamp: {between: ["58", "31"], watts: 5, does: shine}}]}
switch: {terminals: {in: "15", out: "58"},
         inside: [{control: {name: knob, positions: ["off", "on"]}},
                  {contact: {join: [in, out], when: {knob: "on"}}}]}
ballast: {terminals: {in: {}, out: {}}, inside: [{resistor: {between: [in, out], ohms: 1.5}}]}
battery: {terminals: {"+": "30", "-": "31"}, inside: [{source: {between: ["+", "-"], volts: 12}}]}
""")
PLACES = {"l": "lamp", "s": "switch", "b": "ballast", "c": "battery"}
FEED = {"x": {"role": "30"}}


def stays_live(*wires: str) -> bool:
    """Whether the first of some wires, with its other end tied back, can be live."""
    some = Bench(PARTS, PLACES, list(wires), FEED)
    return may_be_live(some.loom, some.catalogue, some.loom.wires[0].wire)


@pytest.mark.parametrize(
    "wires",
    [
        ("feed:x > loose",),
        ("s:out > loose", "feed:x > s:in"),
        ("s:in > loose", "feed:x > s:out"),
        ("b:out > loose", "c:+ > b:in"),
        ("joint:j > loose", "feed:x > joint:j"),
        ("unknown > loose",),
    ],
    ids=["a feed", "by a switch", "backwards through it", "by a ballast", "by a joiner", "nobody knows"],
)
def test_a_wire_that_something_can_feed_stays_live(wires: tuple[str, ...]) -> None:
    assert stays_live(*wires)


@pytest.mark.parametrize(
    "wires",
    [
        ("l:58 > loose", "feed:x > s:in"),
        ("l:31 > loose", "feed:x > l:58"),
        ("s:out > loose", "s:in > l:58"),
        ("c:- > loose", "c:+ > l:58"),
        ("earth:z > loose", "feed:x > s:in"),
    ],
    ids=["only a lamp", "beyond a load", "a switch that nothing feeds", "the earthed pole", "the body"],
)
def test_a_wire_that_nothing_can_feed_is_not_said_to_stay_live(wires: tuple[str, ...]) -> None:
    assert not stays_live(*wires)
