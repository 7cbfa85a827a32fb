"""The numbered lines of the trade's practice that concern what a circuit does; common practice, no source.

Each test is one claim of a line, on a tiny invented loom. Lines that need the resistance of wires, real
filaments or currents against limits belong to a later stage.
"""

import pytest
from small_looms import Bench, make_parts, prove

from planner.engine.case import Case
from planner.model.delta import Cover
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.need import BareTerminal, Proposal
from planner.proof.facts import conductor_facts
from planner.proof.prove import Proof
from rules.tabs import bare_driven_terminal

PARTS = make_parts(
    """
    switch:
      terminals: {"30": "30", "58": "58"}
      inside:
        - control: {name: knob, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {knob: "on"}}
    push-to-earth:
      terminals: {a: return, case: mounting}
      inside:
        - control: {name: push, positions: [released, pressed], returns: released}
        - contact: {join: [a, case], when: {push: pressed}}
    lamp:
      terminals: {a: "58", E: "31"}
      inside: [{lamp: {between: [a, E], watts: 21, does: shine}}]
    led:
      terminals: {a: "58", E: "31"}
      inside: [{led: {between: [a, E], watts: 2, does: shine}}]
    tell-tale:
      terminals: {a: "", b: ""}
      inside: [{lamp: {between: [a, b], watts: 2.2, does: tell-tale}}]
    box:
      terminals: {B: "30", "1": "30", "2": "30"}
      inside: [{fuse: {between: [B, "1"], amps: 8}}, {fuse: {between: [B, "2"], amps: 8}}]
    diode:
      terminals: {a: "", k: ""}
      inside: [{diode: {between: [a, k]}}]
    slow-motor:
      terminals: {"53": "53", 53a: 53a, 31b: 31b, case: mounting}
      inside:
        - winding: {between: ["53", case], watts: 36, does: wipe slowly, duty: wiper}
        - cam: {name: blades, states: [parked, sweeping], turned_by: wipe slowly}
        - contact: {join: [31b, case], when: {blades: parked}}
        - contact: {join: [53a, 31b], when: {blades: sweeping}}
    two-speed-motor:
      terminals: {"53": "53", 53b: 53b, 53a: 53a, 31b: 31b, "31": "31"}
      inside:
        - winding: {between: ["53", "31"], watts: 36, does: wipe slowly, duty: wiper}
        - winding: {between: [53b, "31"], watts: 50, does: wipe fast, duty: wiper}
        - cam: {name: blades, states: [parked, sweeping], turned_by: [wipe slowly, wipe fast]}
        - contact: {join: [31b, "31"], when: {blades: parked}}
        - contact: {join: [53a, 31b], when: {blades: sweeping}}
    slow-switch:
      terminals: {"15": "15", "53": "53", 31b: 31b}
      inside:
        - control: {name: wiper, positions: ["off", slow]}
        - contact: {join: ["15", "53"], when: {wiper: slow}}
        - contact: {join: [31b, "53"], when: {wiper: "off"}}
    always-joined-switch:
      terminals: {"15": "15", "53": "53", 31b: 31b}
      inside:
        - control: {name: wiper, positions: ["off", slow]}
        - contact: {join: ["15", "53"], when: {wiper: slow}}
        - contact: {join: [31b, "53"]}
    two-speed-switch:
      terminals: {"15": "15", "53": "53", 53b: 53b, 31b: 31b}
      inside:
        - control: {name: wiper, positions: ["off", slow, fast]}
        - contact: {join: ["15", "53"], when: {wiper: slow}}
        - contact: {join: ["15", 53b], when: {wiper: fast}}
        - contact: {join: [31b, "53"], when: {wiper: "off"}}
    horn-insulated:
      terminals: {"+": "30", "-": return}
      inside: [{winding: {between: ["+", "-"], watts: 60, does: sound, duty: horn}}]
    horn-earthed:
      terminals: {"+": "30", case: mounting}
      inside: [{winding: {between: ["+", case], watts: 60, does: sound, duty: horn}}]
    stepping-relay:
      terminals: {feed: "", "56": "56", 56a: 56a, 56b: 56b, S: return}
      inside:
        - coil: {between: [feed, S], ohms: 60, pulls_in_v: 7.5, drops_out_v: 3, does: coil, name: armature}
        - step: {name: beam, states: [dipped, main], stepped_by: armature}
        - contact: {join: ["56", 56b], when: {beam: dipped}}
        - contact: {join: ["56", 56a], when: {beam: main}}
    flashing-relay:
      terminals: {feed: "", "56": "56", 56a: 56a, 56b: 56b, S: return}
      inside:
        - coil: {between: [feed, S], ohms: 60, pulls_in_v: 7.5, drops_out_v: 3, does: coil, name: armature}
        - step: {name: beam, states: [dipped, main], stepped_by: armature}
        - contact: {join: ["56", 56b], when: {beam: dipped}}
        - contact: {join: ["56", 56a], when: {beam: main}}
        - contact: {join: [feed, 56a], when: {armature: pulled}}
    foot-switch:
      terminals: {S: return, E: "31"}
      inside:
        - control: {name: foot, positions: [up, down]}
        - contact: {join: [S, E], when: {foot: down}}
    beams:
      terminals: {56a: 56a, 56b: 56b, E: "31"}
      inside:
        - lamp: {between: [56a, E], watts: 45, does: main, duty: head}
        - lamp: {between: [56b, E], watts: 40, does: dip, duty: head}
    thermal:
      terminals: {"49": "49", 49a: 49a}
      inside: [{flasher: {between: ["49", 49a], kind: thermal, needs_amps: 2.6, heater_ohms: 60, name: beat}}]
    electronic:
      terminals: {"49": "49", 49a: 49a, case: mounting}
      inside:
        - flasher: {between: ["49", 49a], kind: electronic, needs_amps: 0.1, name: beat, supply: ["49", case]}
    turn-and-hazard:
      terminals: {49a: 49a, L: L, R: R}
      inside:
        - control: {name: turn, positions: ["off", left, right]}
        - control: {name: hazard, positions: ["off", "on"]}
        - contact: {join: [49a, L], when: {turn: left}}
        - contact: {join: [49a, R], when: {turn: right}}
        - contact: {join: [49a, L, R], when: {hazard: "on"}}
    turn-and-stop:
      terminals: {49a: 49a, "54": "54", L: L, R: R}
      inside:
        - control: {name: turn, positions: ["off", left, right]}
        - contact: {join: [49a, L], when: {turn: left}}
        - contact: {join: [49a, R], when: {turn: right}}
        - contact: {join: ["54", L], when: {turn: ["off", right]}}
        - contact: {join: ["54", R], when: {turn: ["off", left]}}
    stop-switch:
      terminals: {a: "30", b: "54"}
      inside: [{contact: {join: [a, b], when: {brake pedal: pressed}}}]
    dynamo:
      terminals: {D: "", case: mounting}
      inside:
        - source: {between: [D, case], volts: 12, when: {engine: running}}
        - resistor: {between: [D, case], ohms: 0.4, when: {engine: stopped}}
    battery:
      terminals: {live: "30", back: "31"}
      inside: [{source: {between: [live, back], volts: 12}}]
    key:
      terminals: {"30": "30", "15": "15", acc: "15", "50": ""}
      inside:
        - control: {name: ignition, positions: ["off", "on", start]}
        - contact: {join: ["30", "15"], when: {ignition: ["on", start]}}
        - contact: {join: ["30", acc], when: {ignition: "on"}}
        - contact: {join: ["30", "50"], when: {ignition: start}}
    oil-switch:
      terminals: {O: return, case: mounting}
      inside: [{contact: {join: [O, case], when: {oil pressure: absent}}}]
    ammeter:
      terminals: {a: "30", b: "30"}
      inside: [{contact: {join: [a, b]}}]
    voltmeter:
      terminals: {a: "30", b: "31"}
      inside: [{gauge: {between: [a, b], ohms: 1000, full_scale_amps: 0.016, does: volts}}]
    solenoid:
      terminals: {S: "", M: "", B: "30", case: mounting}
      inside:
        - coil: {between: [S, case], ohms: 4, pulls_in_v: 6.5, drops_out_v: 2, does: pull, name: plunger}
        - contact: {join: [B, M], when: {plunger: pulled}}
    starter:
      terminals: {M: "", case: mounting}
      inside: [{winding: {between: [M, case], watts: 900, does: crank}}]
    ballast:
      terminals: {a: "15", b: "15"}
      inside: [{resistor: {between: [a, b], ohms: 1.5}}]
    ignition-coil:
      terminals: {a: "15", E: "31"}
      inside: [{winding: {between: [a, E], watts: 48, does: spark}}]
    diode-relay:
      terminals: {"86": "86", "85": "85"}
      inside:
        - coil: {between: ["86", "85"], ohms: 60, pulls_in_v: 7.5, drops_out_v: 3, does: pull, name: armature}
        - diode: {between: ["85", "86"]}
    interior-lamp:
      terminals: {B: "30", D: return, E: "31"}
      inside:
        - control: {name: lamp switch, positions: [door, "on"]}
        - lamp: {between: [B, D], watts: 5, does: interior light}
        - contact: {join: [D, E], when: {lamp switch: "on"}}
    door-switch:
      terminals: {D: return, case: mounting}
      inside: [{contact: {join: [D, case], when: {door: open}}}]
    dropper:
      terminals: {a: "", b: ""}
      inside: [{resistor: {between: [a, b], ohms: 6}}]
    six-volt-lamp:
      terminals: {a: "", E: "31"}
      inside: [{lamp: {between: [a, E], watts: 6, volts: 6, does: shine}}]
    """
)
LIVE = {"live": {"role": "30"}}
IGN = {"ign": {"role": "15"}}


def bench(places: dict[str, str], *wires: str, feeds: object = LIVE, **conditions: list[str]) -> Bench:
    named = {name.replace("_", " "): values for name, values in conditions.items()}
    return Bench(PARTS, places, wires, feeds, named)  # type: ignore[arg-type]


def said(proof: Proof, load: str) -> set[tuple[str, str, str]]:
    """Outcomes of a load other than kept."""
    return {
        (f.outcome, f.before, f.after)
        for f in proof.findings
        if f"{f.at}/{f.what}" == load and f.outcome != "kept"
    }


def dangers(proof: Proof) -> set[str]:
    return {h.kind for h in proof.hazards if not h.was_before}


# -- 3: daisy chains ---------------------------------------------------------------------------------------


def test_line_3_end_taken_out_of_a_chain_and_covered_keeps_what_lies_beyond_fed():
    before = bench({"a": "lamp", "b": "lamp"}, "w = feed:live > a:a > b:a", "e = a:E > b:E > earth")
    folded = before.changed(
        wires=["w = feed:live > loose > b:a", "e = loose > b:E > earth"], places={"b": "lamp"}
    )
    broken = folded.changed(wires=["w = loose > b:a", "e = b:E > earth"])
    assert said(prove(before, folded), "b/shine") == set()
    assert said(prove(before, broken), "b/shine") == {("lost", "full", "off")}


# -- 7, 8, 9: wipers ---------------------------------------------------------------------------------------

SLOW_WIRES = (
    "feed = feed:ign > dash:15",
    "park-feed = feed:ign > motor:53a",
    "run = dash:53 > motor:53",
    "park = dash:31b > motor:31b",
)
SLOW = bench({"dash": "slow-switch", "motor": "slow-motor"}, *SLOW_WIRES, feeds=IGN)


def test_line_7_cam_feeds_the_motor_until_parked_and_then_brakes_it():
    sweeping = {"motor/blades": "sweeping"}
    assert SLOW.amps("motor/wipe slowly", sweeping) == pytest.approx(3.0)
    assert SLOW.amps("motor/wipe slowly", {"motor/blades": "parked"}) == 0.0
    assert SLOW.number({"motor/blades": "parked"}, "zero", "motor:53") == 1.0
    assert SLOW.shows("motor/park the blades", dash__wiper="off") == "parks"


def test_line_7_switch_that_keeps_the_park_joint_when_on_makes_a_short_each_turn():
    kept = SLOW.changed(places={"dash": "always-joined-switch", "motor": "slow-motor"})
    shorts = [h for h in prove(SLOW, kept).hazards if h.kind == "short"]
    assert [h.positions() for h in shorts] == [[{"dash/wiper": "slow"}]]
    assert not kept.events({"dash/wiper": "slow", "motor/blades": "sweeping"}, "short")


def test_line_8_unused_second_speed_brush_is_covered():
    after = SLOW.changed(
        places={"dash": "slow-switch", "motor": "two-speed-motor"}, wires=[*SLOW_WIRES, "motor:31 > earth"]
    )
    job = Job.model_validate(
        {"job": "x", "loom": "small", "swaps": [{"at": "motor", "fit": "two-speed-motor"}]}
    )

    def proposed(mark: str) -> list[object]:
        need = BareTerminal(f"motor:{mark}")
        case = Case(
            need, SLOW.loom, after.loom, after.catalogue, job, conductor_facts(SLOW.loom, SLOW.catalogue)
        )
        return [
            operation
            for emission in bare_driven_terminal.propose(case)
            if isinstance(emission, Proposal)
            for operation in emission.operations
        ]

    assert proposed("53b") == [Cover("motor:53b")]


def test_line_9_second_speed_needs_one_conductor_more():
    places = {"dash": "two-speed-switch", "motor": "two-speed-motor"}
    without = SLOW.changed(places=places, wires=[*SLOW_WIRES, "e = motor:31 > earth"])
    swaps = [{"at": place, "fit": part} for place, part in places.items()]
    assert without.shows("motor/wipe fast", dash__wiper="fast") == "off"
    assert ("missing", "wipe fast") in {(f.kind, f.what) for f in prove(SLOW, without, swaps=swaps).faults}
    one_more = without.changed(wires=[*without.wires, "fast = dash:53b > motor:53b"])
    assert one_more.shows("motor/wipe fast", dash__wiper="fast") == "full"
    assert {f.kind for f in prove(SLOW, one_more, swaps=swaps).faults} == set()


def test_line_9_another_is_needed_where_the_motor_no_longer_earths_through_its_body():
    places = {"dash": "two-speed-switch", "motor": "two-speed-motor"}
    unearthed = SLOW.changed(places=places, wires=[*SLOW_WIRES, "fast = dash:53b > motor:53b"])
    assert unearthed.shows("motor/wipe slowly", dash__wiper="slow") == "off"
    assert unearthed.shows("motor/wipe fast", dash__wiper="fast") == "off"


# -- 10: switched returns ----------------------------------------------------------------------------------


def test_line_10_case_earthed_motor_behind_a_switched_return_runs_for_ever():
    wires = ["f = feed:live > horn:+", "r = horn:- > push:a"]
    before = bench({"horn": "horn-insulated", "push": "push-to-earth"}, *wires)
    after = before.changed(
        places={"horn": "horn-earthed", "push": "push-to-earth"}, wires=["f = feed:live > horn:+"]
    )
    proof = prove(before, after, swaps=[{"at": "horn", "fit": "horn-earthed"}])
    released = [f.positions() for f in proof.findings if f.outcome == "unintended"]
    assert released == [[{"push/push": "released"}]]
    assert dangers(proof) == {"drain"}


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


# -- 15, 16, 18: charging and instruments ------------------------------------------------------------------


def test_line_15_charge_lamp_sits_between_ignition_and_armature_and_goes_out_when_they_are_equal():
    loom = bench(
        {"bat": "battery", "key": "key", "lamp": "tell-tale", "dynamo": "dynamo"},
        "bat:back > earth",
        "bat:live > key:30",
        "key:15 > lamp:a",
        "lamp:b > dynamo:D",
        feeds={},
        engine=["stopped", "running"],
    )
    assert loom.shows("lamp/tell-tale", key__ignition="on", engine="stopped") == "full"
    assert loom.shows("lamp/tell-tale", key__ignition="on", engine="running") == "off"


def test_line_16_oil_switch_closes_when_there_is_no_pressure(catalogue):
    """As shipped: the lamp is lit with the ignition on and no pressure, and goes out with it."""
    parts = {"oil": catalogue.parts["oil-pressure-switch"], "lamp": PARTS["tell-tale"]}
    loom = Bench(
        parts,
        {"dash": "lamp", "engine": "oil"},
        ["feed:ign > dash:a", "dash:b > engine:O"],
        IGN,
        {"oil pressure": ["absent", "present"]},
    )
    assert loom.shows_in("dash/tell-tale", {"oil pressure": "absent"}) == "full"
    assert loom.shows_in("dash/tell-tale", {"oil pressure": "present"}) == "off"


def test_line_18_ammeter_replaced_by_a_voltmeter_means_joining_its_leads():
    before = bench(
        {"dash": "ammeter", "lamp": "lamp"},
        "in = feed:live > dash:a",
        "out = dash:b > lamp:a",
        "e = lamp:E > earth",
    )
    parted = before.changed(
        places={"dash": "voltmeter", "lamp": "lamp"},
        wires=["in = feed:live > dash:a", "out = loose > lamp:a", "e = lamp:E > earth", "v = dash:b > earth"],
    )
    joined = parted.changed(wires=[w.replace("loose", "dash:a") for w in parted.wires])
    swaps = [{"at": "dash", "fit": "voltmeter"}]
    assert said(prove(before, parted, swaps=swaps), "lamp/shine") == {("lost", "full", "off")}
    assert said(prove(before, joined, swaps=swaps), "lamp/shine") == set()
    assert joined.shows("dash/volts").startswith("reads")


# -- 19, 20, 21, 22: earths, fuses, feeds, ignition --------------------------------------------------------


def test_line_19_lamp_that_lost_its_earth_finds_one_through_its_neighbour():
    """The unearthed pair shares one earth: what is fed goes back through the other, dim, and lights it."""
    wires = [
        "f = feed:live > a:a",
        "n = b:a > c:a",
        "pair = a:E > b:E",
        "e = a:E > earth",
        "ce = c:E > earth",
    ]
    before = bench({"a": "lamp", "b": "lamp", "c": "lamp"}, *wires)
    lost = before.changed(wires=[w for w in wires if not w.startswith("e ")])
    proof = prove(before, lost)
    assert said(proof, "b/shine") == {("unintended", "off", "glows")}
    assert said(proof, "c/shine") == {("unintended", "off", "glows")}
    assert {outcome for outcome, _, _ in said(proof, "a/shine")} == {"lost"}


def test_line_20_fuse_fed_from_both_ends_stays_live_when_one_lead_is_pulled():
    both = bench(
        {"box": "box", "lamp": "lamp"},
        "feed:live > box:B",
        "other = feed:live > box:1 > lamp:a",
        "lamp:E > earth",
    )
    pulled = both.changed(wires=[w for w in both.wires if "box:B" not in w])
    single = both.changed(wires=["feed:live > box:B", "other = box:1 > lamp:a", "lamp:E > earth"])
    dead = single.changed(wires=[w for w in single.wires if "box:B" not in w])
    assert pulled.shows("lamp/shine") == "full"
    assert dead.shows("lamp/shine") == "off"


def test_line_20_link_inside_a_fuse_box_may_tie_two_feeds():
    feeds = {"live": {"role": "30"}, "ign": {"role": "15", "when": {"ignition": ["on"]}}}
    linked = make_parts(
        """
        linked:
          terminals: {B: "30", I: "15", "1": "30", "2": "15"}
          inside:
            - fuse: {between: [B, "1"], amps: 8}
            - fuse: {between: [I, "2"], amps: 8}
            - contact: {join: ["1", "2"]}
        apart:
          terminals: {B: "30", I: "15", "1": "30", "2": "15"}
          inside: [{fuse: {between: [B, "1"], amps: 8}}, {fuse: {between: [I, "2"], amps: 8}}]
        """
    )
    before = Bench(
        linked,
        {"box": "apart"},
        ["feed:live > box:B", "feed:ign > box:I"],
        feeds,
        {"ignition": ["off", "on"]},
    )
    after = before.changed(places={"box": "linked"})
    found = {
        h.kind: h.positions() for h in prove(before, after, swaps=[{"at": "box", "fit": "linked"}]).hazards
    }
    assert found["feeds-tied"] == [{"ignition": "on"}]
    assert found["back-feed"] == [{"ignition": "off"}]


def test_line_21_second_wire_on_a_feed_terminal_may_be_the_onward_feed_of_everything_else():
    wires = ["in = feed:live > dash:30", "on = dash:30 > far:a", "e = far:E > earth"]
    before = bench({"dash": "switch", "far": "lamp"}, *wires)
    spare = before.changed(wires=[w.replace("on = dash:30", "on = loose") for w in wires])
    assert said(prove(before, spare), "far/shine") == {("lost", "full", "off")}


CRANKING = {
    "bat": "battery",
    "key": "key",
    "sol": "solenoid",
    "st": "starter",
    "bal": "ballast",
    "coil": "ignition-coil",
}
CRANKING_WIRES = (
    "neg = bat:back > earth",
    "main = bat:live > key:30 > sol:B",
    "motor = sol:M > st:M",
    "trigger = key:50 > sol:S",
    "in = key:15 > bal:a",
    "out = bal:b > coil:a",
    "e = coil:E > earth",
)


def test_line_22_accessories_drop_out_while_cranking_and_the_coils_feed_must_not():
    loom = bench(
        {**CRANKING, "radio": "lamp"},
        *CRANKING_WIRES,
        "acc = key:acc > radio:a",
        "re = radio:E > earth",
        feeds={},
    )
    assert loom.shows("radio/shine", key__ignition="on") == "full"
    assert loom.shows("radio/shine", key__ignition="start") == "off"
    assert (
        loom.shows("coil/spark", key__ignition="start")
        == loom.shows("coil/spark", key__ignition="on")
        != "off"
    )


def test_line_22_ballast_bypass_from_the_trigger_keeps_the_starter_in():
    """Released to "on", the coil's feed flows back through the bypass and holds the plunger."""
    plain = bench(CRANKING, *CRANKING_WIRES, feeds={})
    bypassed = plain.changed(wires=[*CRANKING_WIRES, "bypass = sol:S > coil:a"])
    started = {"key/ignition": "on", "sol/plunger": "pulled"}
    assert plain.all_appearances("st/crank", started) == {"off"}
    assert bypassed.all_appearances("st/crank", started) == {"full"}
    diode = plain.changed(
        places={**CRANKING, "d": "diode"},
        wires=[*CRANKING_WIRES, "bypass = sol:S > d:a", "on = d:k > coil:a"],
    )
    assert diode.all_appearances("st/crank", started) == {"off"}
    assert diode.shows("coil/spark", key__ignition="start") == "full"


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
