"""What a conductor reaches is known again, and looked for anew in a loom that differs."""

from small_looms import Bench, make_parts

from planner.model.delta import copy_loom
from planner.model.loom import Place
from planner.model.reach import consumers_beyond

PARTS = make_parts("""
lamp: {terminals: {"58": "58", "31": "31"},
       inside: [{lamp: {between: ["58", "31"], watts: 5, does: shine}}]}
motor: {terminals: {"58": "58", "31": "31"},
        inside: [{winding: {between: ["58", "31"], watts: 30, does: turn}}]}
""")


def test_another_part_in_the_same_place_is_another_consumer() -> None:
    some = Bench(PARTS, {"a": "lamp"}, ["feed:x > a:58"], {"x": {"role": "30"}})
    other = copy_loom(some.loom, places={"a": Place(part="motor", zone="z")})
    found = [
        [consumer.does for consumer in consumers_beyond(loom, some.catalogue, "feed:x")]
        for loom in (some.loom, other, some.loom)
    ]
    assert found == [["shine"], ["turn"], ["shine"]]
