"""Sneak circuits of the literature reproduced in exactly the published positions, and their cures.

Rows, source and basis of each are in ``reference/sneak-circuits.yaml``; what is expected beyond the
published rows is worked out here and said so.
"""

from itertools import product
from pathlib import Path
from typing import Any

import pytest
from small_looms import Bench, make_parts, prove, read

from planner.circuit.operating_point import Element, solve

TABLES: dict[str, Any] = read(
    (Path(__file__).parent / "reference" / "sneak-circuits.yaml").read_text(encoding="utf-8")
)
PARTS = make_parts(
    """
    switch:
      terminals: {a: "", b: ""}
      inside: [{control: {name: s, positions: ["0", "1"]}}, {contact: {join: [a, b], when: {s: "1"}}}]
    stop-switch:
      terminals: {a: "15", b: "54"}
      inside: [{control: {name: s, positions: ["0", "1"]}}, {contact: {join: [a, b], when: {s: "1"}}}]
    radio:
      terminals: {a: "", b: ""}
      inside: [{resistor: {between: [a, b], ohms: 12, does: radio}}]
    lamp:
      terminals: {a: "", b: ""}
      inside: [{lamp: {between: [a, b], watts: 21, does: stop lamp, duty: stop}}]
    hazard:
      terminals: {a: "", b: ""}
      inside: [{flasher: {between: [a, b], kind: electronic, needs_amps: 0.5, name: beat}}]
    valve: {terminals: {a: "", b: ""}, inside: [{winding: {between: [a, b], watts: 24, does: valve}}]}
    diode: {terminals: {a: "", b: ""}, inside: [{diode: {between: [a, b]}}]}
    heavy: {terminals: {a: "", b: ""}, inside: [{winding: {between: [a, b], watts: 36, does: load}}]}
    cutoff:
      terminals: {a: "", b: ""}
      nodes: [n]
      inside:
        - coil: {between: [a, n], ohms: 60, pulls_in_v: 5, drops_out_v: 2, does: cutoff, name: armature}
        - diode: {between: [n, b]}
    charge-lamp:
      terminals: {a: "", b: ""}
      inside: [{lamp: {between: [a, b], watts: 2.2, does: charge lamp}}]
    coil-3: {terminals: {a: "", b: ""}, inside: [{winding: {between: [a, b], watts: 48, does: ignition}}]}
    light-relay:
      terminals: {a: "", b: ""}
      inside:
        - coil: {between: [a, b], ohms: 150, pulls_in_v: 7, drops_out_v: 3, does: hold, name: armature}
    """
)


def rows_of(name: str) -> list[tuple[dict[str, str], list[str]]]:
    """Published rows as positions (``switch/s`` by name) and what is to be seen."""
    table = TABLES[name]
    assert table["source"] and table["basis"]
    count = len(table["order"])
    return [
        (
            {f"{place.replace(' ', '-')}/s": v for place, v in zip(table["order"], row, strict=False)},
            row[count:],
        )
        for row in table["rows"]
    ]


def every_position(bench: Bench) -> list[dict[str, str]]:
    names = [name for name in bench.view.net.controls if name.endswith("/s")]
    return [dict(zip(names, values, strict=True)) for values in product("01", repeat=len(names))]


# -- example 1: radio, hazard flasher and brake pedal ----------------------------------------------------

RADIO_PLACES = {
    "ignition": "switch",
    "radio": "switch",
    "set": "radio",
    "brake": "stop-switch",
    "left": "lamp",
    "right": "lamp",
    "hazard": "switch",
    "unit": "hazard",
}
RADIO_WIRES = [
    "bat = feed:bat > ignition:a > unit:a",
    "bus = ignition:b > radio:a > brake:a",
    "set = radio:b > set:a",
    "stop = brake:b > left:a > right:a > hazard:b",
    "flash = unit:b > hazard:a",
    "earth = set:b > left:b > right:b > earth",
]
RADIO = Bench(PARTS, RADIO_PLACES, RADIO_WIRES, {"bat": {"role": "30"}})
RADIO_CURES = {
    "brake switch fed from the battery": RADIO.changed(
        wires=[*(w.replace(" > brake:a", "") for w in RADIO_WIRES), "own = feed:bat > brake:a"]
    ),
    "diode from ignition to brake switch": RADIO.changed(
        places={**RADIO_PLACES, "d": "diode"},
        wires=[*(w.replace(" > brake:a", " > d:a") for w in RADIO_WIRES), "d = d:b > brake:a"],
    ),
}


def plays_with_ignition_off(bench: Bench) -> list[dict[str, str]]:
    """Positions in which the first published requirement is broken."""
    return [
        position
        for position in every_position(bench)
        if position["ignition/s"] == "0" and bench.shows_in("set/radio", position) != "off"
    ]


@pytest.mark.parametrize(("position", "expected"), rows_of("radio-hazard-brake"))
def test_radio_plays_in_step_with_the_stop_lamps(position, expected):
    stop, radio = expected
    assert RADIO.shows_in("left/stop lamp", position) == stop
    assert RADIO.shows_in("right/stop lamp", position) == stop
    assert RADIO.shows_in("set/radio", position) == radio


def test_radio_plays_with_the_ignition_off_in_the_published_position_only():
    sneak = {"ignition/s": "0", "hazard/s": "1", "brake/s": "1", "radio/s": "1"}
    assert plays_with_ignition_off(RADIO) == [{name: sneak[name] for name in RADIO.view.net.controls}]


def test_sneak_current_of_the_radio_is_as_computed():
    """12 V, 12 ohm: 1.00 A; the stop lamps take 21 W each."""
    sneak = {"hazard/s": "1", "brake/s": "1", "radio/s": "1", "unit/beat": "light"}
    assert RADIO.amps("set/radio", sneak) == pytest.approx(1.00)
    assert RADIO.watts("left/stop lamp", sneak) == pytest.approx(21.0)


@pytest.mark.parametrize("cure", RADIO_CURES)
def test_cure_silences_the_radio_and_keeps_the_rest(cure):
    cured = RADIO_CURES[cure]
    assert plays_with_ignition_off(cured) == []
    for position, (stop, radio) in rows_of("radio-hazard-brake"):
        sneak = position["ignition/s"] == "0" and radio != "off"
        assert cured.shows_in("set/radio", position) == ("off" if sneak else radio)
        if position["ignition/s"] == "1" or position["brake/s"] == "0":
            assert cured.shows_in("left/stop lamp", position) == stop


def test_change_that_brings_the_sneak_is_found_unintended_in_just_that_position():
    """The brake switch moved from its own feed to the ignition bus: a healthy loom becomes the sneak."""
    before = RADIO_CURES["brake switch fed from the battery"]
    after = before.changed(
        wires=[w.replace("own = feed:bat", "own = radio:a") for w in before.wires],
    )
    findings = [
        f for f in prove(before, after).findings if f.what == "radio" and f.outcome not in ("kept", "gained")
    ]
    assert [(f.outcome, f.before, f.after) for f in findings] == [("unintended", "off", "flashes")]
    assert findings[0].positions() == [{"brake/s": "1", "hazard/s": "1", "ignition/s": "0", "radio/s": "1"}]


# -- example 2: landing gear and cargo door --------------------------------------------------------------

GEAR_PLACES = {
    "gear": "switch",
    "door": "switch",
    "emergency": "switch",
    "gear-valve": "valve",
    "door-valve": "valve",
}
GEAR_WIRES = [
    "bus1 = feed:bus1 > gear:a",
    "n1 = gear:b > gear-valve:a > door:a",
    "n2 = door:b > door-valve:a > emergency:b",
    "bus2 = feed:bus2 > emergency:a",
    "earth = gear-valve:b > door-valve:b > earth",
]
GEAR = Bench(PARTS, GEAR_PLACES, GEAR_WIRES, {"bus1": {"role": "30"}, "bus2": {"role": "30"}})
GEAR_CURED = GEAR.changed(
    places={**GEAR_PLACES, "d": "diode"},
    wires=[w.replace("gear-valve:a > door:a", "gear-valve:a > d:a") for w in GEAR_WIRES]
    + ["d = d:b > door:a"],
)


@pytest.mark.parametrize(("position", "expected"), rows_of("gear-and-cargo-door"))
def test_gear_comes_down_with_the_emergency_door_switch(position, expected):
    door, gear = expected
    assert GEAR.shows_in("door-valve/valve", position) == door
    assert GEAR.shows_in("gear-valve/valve", position) == gear
    cured = {"full" if gear == "full" and position["gear/s"] == "1" else "off"}
    assert {GEAR_CURED.shows_in("gear-valve/valve", position)} == cured
    assert GEAR_CURED.shows_in("door-valve/valve", position) == door


def test_gear_comes_down_unasked_in_the_published_position_only():
    unasked = [
        position
        for position in every_position(GEAR)
        if position["gear/s"] == "0" and GEAR.shows_in("gear-valve/valve", position) != "off"
    ]
    assert unasked == [{"gear/s": "0", "door/s": "1", "emergency/s": "1"}]


def test_two_buses_meet_only_with_all_three_switches_closed():
    """Not in the publication: both feeds are on one node, which is a hazard of its own."""
    for position in every_position(GEAR):
        tied = {("feed:bus1", "feed:bus2")} if set(position.values()) == {"1"} else set()
        assert GEAR.events(position, "tie") == tied


# -- example 3: cables that part in the wrong order ------------------------------------------------------

CABLES = Bench(
    PARTS,
    {"load": "heavy", "tail-plug": "switch", "relay": "cutoff", "control-plug": "switch", "strap": "switch"},
    [
        "feed:p > load:a",
        "load:b > tail-plug:a > relay:a > strap:a",
        "relay:b > control-plug:a",
        "tail-plug:b > control-plug:b > strap:b > earth",
    ],
    {"p": {"role": "30"}},
)


@pytest.mark.parametrize(("position", "expected"), rows_of("parting-cables"))
def test_cutoff_relay_picks_up_when_the_ground_parts_first(position, expected):
    assert (CABLES.shows_in("relay/cutoff", position) != "off") == (expected == ["full"])
    pulled = {
        state
        for group in [CABLES.view.states.group(CABLES.view.states.hidden)]
        for setting in [tuple(CABLES.setting(position)[c] for c in group.controls)]
        for start in group.starts()[setting]
        for state in group.final(setting, start).states
    }
    assert pulled == {(1,) if expected == ["full"] else (0,)}


# -- example 6: run-on through the charge warning lamp ---------------------------------------------------


def run_on(coil: str, *, diode: bool = False) -> Bench:
    """The ignition switch, what it feeds, and the charge lamp to D+, held at 14 V by a turning alternator."""
    lamp = ["lamp = ign:b > d:a", "d = d:b > lamp:a"] if diode else ["lamp = ign:b > lamp:a"]
    return Bench(
        PARTS,
        {"ign": "switch", "coil": coil, "lamp": "charge-lamp", "d": "diode"},
        [
            "bat = feed:bat > ign:a",
            "run = ign:b > coil:a",
            *lamp,
            "plus = lamp:b > feed:dplus",
            "e = coil:b > earth",
        ],
        {"bat": {"role": "30"}, "dplus": {"role": "30", "when": {"alternator": ["turning"]}}},
        {"alternator": ["standing", "turning"]},
        volts=14.0,
    )


def test_charge_lamp_feeds_the_ignition_backwards():
    """Published for constant resistance: 0.614 V and 0.205 A, so an ordinary coil of 3 ohm does not run."""
    bench = run_on("coil-3")
    turning = {"alternator": "turning"}
    assert bench.volts_at("ign:b", turning) == pytest.approx(0.614, abs=0.0005)
    assert abs(bench.amps("coil/ignition", turning)) == pytest.approx(0.205, abs=0.0005)
    assert bench.shows("coil/ignition", alternator="turning", ign__s="0") == "off"


def test_relay_that_draws_little_is_held_on_through_the_charge_lamp():
    """150 ohm draw below 0.1 A: once pulled it stays, until a diode in the lamp's lead lets it go."""
    held = {"alternator": "turning", "ign/s": "0", "coil/armature": "pulled"}
    bench = run_on("light-relay")
    assert bench.amps("coil/hold", held) < 0.1
    assert bench.volts_at("ign:b", held) == pytest.approx(14.0 * 150 / (150 + 144 / 2.2))
    assert bench.all_appearances("coil/hold", held) != {"off"}
    cured = run_on("light-relay", diode=True)
    assert cured.all_appearances("coil/hold", held) == {"off"}


# -- example 7: two-source tie ---------------------------------------------------------------------------


def test_two_unequal_sources_drive_the_published_current():
    """13.8 V and 12.6 V, 0.05 ohm each side, no load: 12 A into the lower one."""
    forward, back = solve([Element(-1, 1, 0.05, None), Element(-2, 1, 0.05, None)], {-1: 13.8, -2: 12.6}).amps
    assert forward == pytest.approx(12.0)
    assert back == pytest.approx(-12.0)


# -- topographs ------------------------------------------------------------------------------------------


def shape(*legs: str, feeds: int = 1) -> Bench:
    """A topograph from its legs, written ``name: from to``; names with L are lamps, with S switches."""
    places, wires = {}, []
    ends: dict[str, list[str]] = {}
    for leg in legs:
        name, near, far = leg.replace(":", "").split()
        places[name] = "lamp" if name.startswith("l") else "switch"
        ends.setdefault(near, []).append(f"{name}:a")
        ends.setdefault(far, []).append(f"{name}:b")
    for node, at in ends.items():
        outer = {"G": ["earth"]}.get(node, [f"feed:{node}"] if node.startswith("P") else [])
        if len(at + outer) > 1:
            wires.append(" > ".join([*outer, *at]))
    return Bench(PARTS, places, wires, {f"P{n}": {"role": "30"} for n in range(1, feeds + 1)})


def lit(bench: Bench, lamp: str, closed: str) -> bool:
    position = {
        f"{name}/s": "1" if name in closed.split() else "0" for name in bench.places if name[0] == "s"
    }
    return bench.shows_in(f"{lamp}/stop lamp", position) == "full"


SINGLE = shape("s1: P1 a", "l1: a G")
GROUND_DOME = shape("s1: P1 a", "l1: a b", "s2: b G", "s3: b G")
POWER_DOME = shape("s1: P1 a", "s2: P2 a", "l1: a G", feeds=2)
COMBINATION = shape("s1: P1 a", "s2: P2 a", "l1: a b", "s3: b G", "s4: b G", feeds=2)
H = shape("s1: P1 a", "s2: P2 b", "s5: a b", "l1: a G", "l2: b G", feeds=2)
# Worked out for each shape: in which positions the lamp is lit.
LIT = {
    "single line": (SINGLE, "l1", lambda c: "s1" in c),
    "ground dome": (GROUND_DOME, "l1", lambda c: "s1" in c and bool({"s2", "s3"} & c)),
    "power dome": (POWER_DOME, "l1", lambda c: bool({"s1", "s2"} & c)),
    "combination dome": (COMBINATION, "l1", lambda c: bool({"s1", "s2"} & c) and bool({"s3", "s4"} & c)),
    "H, left": (H, "l1", lambda c: "s1" in c or {"s2", "s5"} <= c),
    "H, right": (H, "l2", lambda c: "s2" in c or {"s1", "s5"} <= c),
}


@pytest.mark.parametrize("name", LIT)
def test_topograph_lights_its_lamp_in_just_its_positions(name):
    assert TABLES["topographs"]["source"] and TABLES["topographs"]["basis"]
    bench, lamp, expected = LIT[name]
    switches = [place for place in bench.places if place[0] == "s"]
    for values in product((False, True), repeat=len(switches)):
        closed = {s for s, on in zip(switches, values, strict=True) if on}
        assert lit(bench, lamp, " ".join(closed)) == expected(closed), closed


@pytest.mark.parametrize(
    ("bench", "closed"),
    [(POWER_DOME, {"s1", "s2"}), (COMBINATION, {"s1", "s2"}), (H, {"s1", "s2", "s5"})],
    ids=["power dome", "combination dome", "H"],
)
def test_two_powers_meet_where_the_topograph_asks(bench, closed):
    """Both feeds on at once; in an H only with the cross-bar closed."""
    for position in every_position(bench):
        meets = all(position[f"{s}/s"] == "1" for s in closed)
        assert bool(bench.events(position, "tie")) == meets, position
