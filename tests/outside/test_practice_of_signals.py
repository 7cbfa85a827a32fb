"""The lines of the trade's practice on stepping relays and turn signals; common practice, no source.

Each test is one claim of a line, on a tiny invented loom. Lines that need the resistance of wires, real
filaments or currents against limits belong to a later stage.
"""

import pytest
from small_looms import Bench, prove
from trade_parts import bench

# -- 11: stepping relays -----------------------------------------------------------------------------------


def dip(relay: str, coil_feed: str) -> Bench:
    return bench(
        {"dash": "switch", "relay": relay, "foot": "foot-switch", "front": "beams"},
        "feed:live > dash:30",
        "dash:58 > relay:56",
        f"{coil_feed} > relay:feed",
        "relay:S > foot:S",
        "relay:56a > front:56a",
        "relay:56b > front:56b",
        "foot:E > front:E > earth",
    )


@pytest.mark.parametrize(("coil_feed", "steps"), [("feed:live", True), ("dash:58", False)])
def test_line_11_whether_it_steps_with_the_lamps_off_depends_on_what_feeds_its_coil(coil_feed, steps):
    relay = dip("stepping-relay", coil_feed)
    group = relay.view.states.group(relay.view.states.hidden)
    setting = relay.setting({"dash/knob": "off", "foot/foot": "down"})
    final = group.final(tuple(setting[c] for c in group.controls), (0, 0))
    assert (final.states != ((0, 0),)) == steps


def test_line_11_latching_foot_switch_holds_the_coil_on():
    relay = dip("stepping-relay", "feed:live")
    held = {"foot/foot": "down", "relay/armature": "pulled"}
    assert relay.shows("relay/coil", foot__foot="down") == "full"
    assert relay.amps("relay/coil", held) == pytest.approx(0.2)


@pytest.mark.parametrize(("coil_feed", "flash"), [("feed:live", "full"), ("dash:58", "off")])
def test_line_11_flash_with_the_lamps_off_needs_the_constant_feed(coil_feed, flash):
    relay = dip("flashing-relay", coil_feed)
    assert relay.shows("front/main", dash__knob="off", foot__foot="down") == flash


# -- 12, 13, 14: turn signals ------------------------------------------------------------------------------


def turn(lamp: str, unit: str = "electronic") -> Bench:
    lamps = {"left": lamp, "left-rear": lamp, "right": lamp, "right-rear": lamp}
    return bench(
        {"unit": unit, "column": "turn-and-hazard", "dash": "tell-tale", **lamps},
        "feed:live > unit:49",
        "unit:49a > column:49a",
        "column:L > left:a > left-rear:a > dash:a",
        "column:R > right:a > right-rear:a > dash:b",
        "left:E > left-rear:E > right:E > right-rear:E > earth",
    )


def test_line_12_shared_indicator_returns_through_the_other_sides_lamps():
    loom = turn("lamp")
    assert loom.shows("dash/tell-tale", column__turn="left") == "flashes"
    assert loom.shows("dash/tell-tale", column__turn="right") == "flashes"
    lit = {"column/turn": "left", "unit/beat": "light"}
    assert loom.volts_at("column:R", lit) == pytest.approx(12 * (144 / 42) / (144 / 42 + 144 / 2.2))


def test_line_12_shared_indicator_is_dark_with_the_hazard_on():
    assert turn("lamp").shows("dash/tell-tale", column__hazard="on") == "off"


def test_line_12_shared_indicator_needs_filament_lamps():
    """Through LEDs it is dim, and they glow on the side that is not signalling."""
    lit = {"column/turn": "left", "unit/beat": "light"}
    filament, leds = turn("lamp"), turn("led")
    assert filament.watts("dash/tell-tale", lit) > 0.8 * 2.2
    assert leds.watts("dash/tell-tale", lit) < 0.4 * 2.2
    changed = [f for f in prove(filament, leds).findings if f.what == "shine" and f.at == "right"]
    assert any(f.outcome == "unintended" or f.after != f.before for f in changed)


def test_line_13_hazard_and_brake_conflict_where_the_stop_lamps_go_through_the_turn_switch():
    loom = bench(
        {
            "unit": "electronic",
            "column": "turn-and-stop",
            "pedal": "stop-switch",
            "left": "lamp",
            "right": "lamp",
            "haz": "switch",
        },
        "feed:live > unit:49 > pedal:a",
        "unit:49a > column:49a > haz:30",
        "pedal:b > column:54",
        "haz:58 > column:54",
        "column:L > left:a",
        "column:R > right:a",
        "left:E > right:E > earth",
        brake_pedal=["released", "pressed"],
    )
    released, pressed = {"haz/knob": "on"}, {"haz/knob": "on", "brake pedal": "pressed"}
    assert loom.shows_in("left/shine", released) == "flashes"
    assert loom.shows_in("left/shine", pressed) == "full", "braking stops the flashing"
    turning = {"column/turn": "left", "brake pedal": "pressed"}
    assert loom.shows_in("left/shine", turning) == "flashes"
    assert loom.shows_in("right/shine", turning) == "full"


def test_line_14_led_lamps_starve_a_thermal_flasher():
    filament, leds = turn("lamp", "thermal"), turn("led", "thermal")
    assert filament.shows("left/shine", column__turn="left") == "flashes"
    assert leds.shows("left/shine", column__turn="left") != "flashes"
    assert turn("led", "electronic").shows("left/shine", column__turn="left") == "flashes"
