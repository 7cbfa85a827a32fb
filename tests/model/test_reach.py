"""What a conductor reaches is known again, and looked for anew in a loom that differs; what hangs on it."""

import pytest
from small_looms import Bench, make_parts

from planner.model.delta import copy_loom
from planner.model.loom import Loom, Place
from planner.model.reach import consumers_beyond, hanging_on

PARTS = make_parts("""
lamp: {terminals: {"58": "58", "31": "31"},
       inside: [{lamp: {between: ["58", "31"], watts: 5, does: shine}}]}
motor: {terminals: {"58": "58", "31": "31"},
        inside: [{winding: {between: ["58", "31"], watts: 30, does: turn}}]}
head: {terminals: {"56a": "56a", "31": "31"},
       inside: [{lamp: {between: ["56a", "31"], watts: 45, does: main beam, duty: head}}]}
switch: {terminals: {"30": "30", "56a": "56a"},
         inside: [{control: {name: lamps, positions: ["off", "on"]}},
                  {contact: {join: ["30", "56a"], when: {lamps: "on"}}}]}
flash: {terminals: {"30": "30", "56a": "56a"},
        inside: [{control: {name: flash, positions: [released, pulled], returns: released}},
                 {contact: {join: ["30", "56a"], when: {flash: pulled}}}]}
stepping: {terminals: {"30": "30", "56a": "56a", S: dip-control},
           inside: [{coil: {between: ["30", S], ohms: 60, pulls_in_v: 7, drops_out_v: 3, name: armature}},
                    {step: {name: beam, states: [dipped, main], stepped_by: armature}},
                    {contact: {join: ["30", "56a"], when: {armature: pulled}}}]}
""")


def beyond(some: Bench, loom: Loom) -> list[str]:
    return [consumer.does for consumer in consumers_beyond(loom, some.catalogue, "feed:x")]


def test_another_part_in_the_same_place_is_another_consumer() -> None:
    some = Bench(PARTS, {"a": "lamp"}, ["feed:x > a:58"], {"x": {"role": "30"}})
    assert beyond(some, some.loom) == ["shine"]
    other = copy_loom(some.loom, places={"a": Place(part="motor", zone="z")})
    assert beyond(some, other) == ["turn"]
    assert beyond(some, some.loom) == ["shine"]


@pytest.mark.parametrize("flash", ["flash", "stepping"])
def test_lamps_with_a_flash_beside_them_hang_on_their_feed_and_not_on_the_flash(flash: str) -> None:
    some = Bench(
        PARTS,
        {"l": "head", "r": "head", "s": "switch", "f": flash},
        ["feed:x > s:30", "feed:y > f:30", "s:56a > l:56a", "f:56a > l:56a", "l:56a > r:56a"],
        {"x": {"role": "30"}, "y": {"role": "30"}},
    )
    hangs = {at: hanging_on(some.loom, some.catalogue, at, "head") for at in ("s:30", "f:30")}
    assert {lamp.place for lamp in hangs["s:30"]} == {"l", "r"} and not hangs["f:30"]
