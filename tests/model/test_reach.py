"""What a conductor reaches is known again, and looked for anew in a loom that differs."""

from small_looms import Bench, make_parts

from planner.model.delta import copy_loom
from planner.model.loom import Loom, Place
from planner.model.reach import consumers_beyond

PARTS = make_parts("""
lamp: {terminals: {"58": "58", "31": "31"},
       inside: [{lamp: {between: ["58", "31"], watts: 5, does: shine}}]}
motor: {terminals: {"58": "58", "31": "31"},
        inside: [{winding: {between: ["58", "31"], watts: 30, does: turn}}]}
""")


def beyond(some: Bench, loom: Loom) -> list[str]:
    return [consumer.does for consumer in consumers_beyond(loom, some.catalogue, "feed:x")]


def test_another_part_in_the_same_place_is_another_consumer() -> None:
    some = Bench(PARTS, {"a": "lamp"}, ["feed:x > a:58"], {"x": {"role": "30"}})
    assert beyond(some, some.loom) == ["shine"]
    other = copy_loom(some.loom, places={"a": Place(part="motor", zone="z")})
    assert beyond(some, other) == ["turn"]
    assert beyond(some, some.loom) == ["shine"]
