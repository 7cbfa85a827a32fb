"""The lines of the trade's practice on polarity, bodies and small classics; common practice, no source.

Each test is one claim of a line, on a tiny invented loom. Lines that need the resistance of wires, real
filaments or currents against limits belong to a later stage.
"""

import pytest
from small_looms import prove
from trade_parts import bench, dangers, said

from planner.model.facts import Facts
from planner.proof.facts import conductor_facts

# -- 25, 26, 28: polarity and bodies -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("earthed", "ends", "shorts"),
    [
        ("negative", ("86", "85"), False),
        ("negative", ("85", "86"), True),
        ("positive", ("86", "85"), True),
        ("positive", ("85", "86"), False),
    ],
)
def test_line_25_relay_coil_with_a_diode_is_a_short_the_other_way_round(earthed, ends, shorts):
    loom = bench({"r": "diode-relay"}, f"feed:live > r:{ends[0]}", f"r:{ends[1]} > earth").changed(
        earthed=earthed
    )
    assert bool(loom.events({}, "short")) == shorts


def test_line_26_terminal_30_means_live_and_not_plus():
    loom = bench({"a": "lamp"}, "feed:live > a:a", "a:E > earth").changed(earthed="positive")
    assert conductor_facts(loom.loom, loom.catalogue).at("a:a").nature == "always-live"
    assert loom.volts_at("a:a", {}) == -12.0
    assert loom.shows("a/shine") == "full"


def test_line_28_one_case_earthed_in_an_insulated_return_system_is_no_short_but_the_second_is():
    """Both poles are wires: the body is on neither, until a case joins it to one."""
    sound = bench(
        {"bat": "battery", "lamp": "lamp"}, "out = bat:live > lamp:a", "back = lamp:E > bat:back", feeds={}
    )
    one = sound.changed(wires=[*sound.wires, "case = bat:live > earth"])
    two = sound.changed(wires=[*one.wires, "other = bat:back > earth"])
    assert sound.shows("lamp/shine") == "full"
    assert not sound.events({}, "short")
    assert not one.events({}, "short")
    assert two.events({}, "short")


def test_line_28_switching_one_pole_of_two_leaves_the_load_live():
    loom = bench(
        {"bat": "battery", "s": "switch", "lamp": "lamp"},
        "bat:live > lamp:a",
        "lamp:E > s:30",
        "s:58 > bat:back",
        feeds={},
    )
    assert loom.shows("lamp/shine", s__knob="off") == "off"
    assert loom.number({"s/knob": "off"}, "live", "lamp:a") == 1.0


@pytest.mark.parametrize(("mounting", "works"), [("", True), ("!insulated", False)])
def test_line_28_wooden_body_earths_no_door_switch_and_no_flasher(mounting, works):
    door = bench(
        {"lamp": "interior-lamp", "post": f"door-switch{mounting}"},
        "feed:live > lamp:B",
        "lamp:D > post:D",
        door=["shut", "open"],
    )
    assert (door.shows("lamp/interior light", door="open") == "full") == works
    flasher = bench(
        {"unit": f"electronic{mounting}", "lamp": "lamp"},
        "feed:live > unit:49",
        "unit:49a > lamp:a",
        "lamp:E > earth",
    )
    assert (flasher.shows("lamp/shine") == "flashes") == works


# -- 30 to 34: small classics ------------------------------------------------------------------------------


def test_line_30_horn_earthed_through_its_body_sounds_permanently():
    before = bench(
        {"horn": "horn-insulated", "push": "push-to-earth"}, "f = feed:live > horn:+", "r = horn:- > push:a"
    )
    after = before.changed(
        places={"horn": "horn-earthed", "push": "push-to-earth"},
        wires=["f = feed:live > horn:+", "r = loose > push:a"],
    )
    assert before.shows("horn/sound", push__push="released") == "off"
    assert after.shows("horn/sound") == "full"
    assert said(prove(before, after, swaps=[{"at": "horn", "fit": "horn-earthed"}]), "horn/sound") == {
        ("unintended", "off", "full")
    }


def test_line_31_interior_lamp_with_crossed_leads_shorts_when_switched_on():
    right = bench(
        {"lamp": "interior-lamp", "post": "door-switch"},
        "f = feed:live > lamp:B",
        "d = lamp:D > post:D",
        "e = lamp:E > earth",
        door=["shut", "open"],
    )
    crossed = right.changed(wires=["f = feed:live > lamp:D", "d = lamp:B > post:D", "e = lamp:E > earth"])
    assert crossed.shows_in("lamp/interior light", {"door": "open"}) == "full", (
        "on the door switch nothing shows"
    )
    shorts = {h.kind: h.positions() for h in prove(right, crossed).hazards}
    assert shorts["short"] == [{"lamp/lamp switch": "on"}]


def test_line_32_voltage_dropper_suits_one_fixed_load():
    """6 ohm drop 6 V for one 6 V, 6 W lamp; a second lamp behind the same dropper dims both."""
    one = bench({"r": "dropper", "a": "six-volt-lamp"}, "feed:live > r:a", "r:b > a:a", "a:E > earth")
    two = bench(
        {"r": "dropper", "a": "six-volt-lamp", "b": "six-volt-lamp"},
        "feed:live > r:a",
        "r:b > a:a > b:a",
        "a:E > b:E > earth",
    )
    none = bench({"a": "six-volt-lamp"}, "feed:live > a:a", "a:E > earth")
    assert one.watts("a/shine", {}) == pytest.approx(6.0)
    assert two.shows("a/shine") == "dim"
    assert none.shows("a/shine") == "over"


def test_line_33_bridging_left_and_right_tail_defeats_two_fuses():
    wires = [
        "f = feed:live > box:B",
        "l = box:1 > left:a",
        "r = box:2 > right:a",
        "e = left:E > right:E > earth",
    ]
    before = bench({"box": "box", "left": "lamp", "right": "lamp"}, *wires)
    bridged = before.changed(wires=[*wires, "socket = left:a > right:a"])
    assert dangers(prove(before, bridged)) == {"feeds-tied"}
    blown = bridged.changed(wires=[w for w in bridged.wires if not w.startswith("r ")])
    assert blown.shows("right/shine") == "full", "the blown fuse is not noticed"


def test_line_37_feed_at_the_edge_stands_for_what_is_not_seen():
    """A partial loom says the same of a conductor whatever else hangs on its fuse."""
    part = bench(
        {"lamp": "lamp"},
        "feed:live > lamp:a",
        "lamp:E > earth",
        feeds={"live": {"role": "30", "fuse_amps": 8}},
    )
    fact = conductor_facts(part.loom, part.catalogue).at("lamp:a")
    assert isinstance(conductor_facts(part.loom, part.catalogue), Facts)
    assert (fact.nature, fact.fuse, fact.fuse_amps) == ("always-live", "feed:live", 8)
