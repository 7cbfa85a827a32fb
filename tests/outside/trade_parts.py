"""The tiny invented parts and looms on which the lines of the trade's practice are shown."""

from small_looms import Bench, make_parts

from planner.proof.prove import Proof

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
