"""The small parts that the tests of the proof share, and what a proof says in short."""

from collections.abc import Mapping

from small_looms import make_parts

from planner.proof.prove import Proof

PARTS = make_parts(
    """
    switch:
      terminals: {"30": "30", "58": "58"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
    three-way:
      terminals: {"30": "30", "58": "58", "56": "56"}
      inside:
        - control: {name: light, positions: ["off", "on", head]}
        - contact: {join: ["30", "58"], when: {light: ["on", head]}}
        - contact: {join: ["30", "56"], when: {light: head}}
    dimming-switch:
      terminals: {"30": "30", "58": "58"}
      nodes: [behind]
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - control: {name: dimmer, positions: [bright, dim]}
        - contact: {join: ["30", "58"], when: {light: "on", dimmer: bright}}
        - resistor: {between: ["30", behind], ohms: 6.9}
        - contact: {join: [behind, "58"], when: {light: "on", dimmer: dim}}
    stop-switch:
      terminals: {"30": "30", "54": "54"}
      inside: [{contact: {join: ["30", "54"], when: {brake pedal: pressed}}}]
    lamp:
      terminals: {"58": "58", "31": "31"}
      inside: [{lamp: {between: ["58", "31"], watts: 21, does: tail lamp, duty: tail}}]
    stop-lamp:
      terminals: {"54": "54", "31": "31"}
      inside: [{lamp: {between: ["54", "31"], watts: 21, does: stop lamp, duty: stop}}]
    plain-lamp:
      terminals: {a: "", b: ""}
      inside: [{lamp: {between: [a, b], watts: 21, does: shine}}]
    head-lamp:
      terminals: {"56": "56", "31": "31"}
      inside: [{lamp: {between: ["56", "31"], watts: 45, does: head lamp, duty: head}}]
    box: {terminals: {B: "30", "1": "30"}, inside: [{fuse: {between: [B, "1"], amps: 8}}]}
    two-fuses:
      terminals: {B: "30", "1": "30", "2": "30"}
      inside: [{fuse: {between: [B, "1"], amps: 8}}, {fuse: {between: [B, "2"], amps: 16}}]
    """
)
BRAKE = {"brake pedal": ["released", "pressed"]}
LIVE = {"live": {"role": "30"}}


def outcomes(proof: Proof, load: str) -> dict[tuple[str, str, str], list[Mapping[str, str]]]:
    """Outcome, before and after of one load, with the positions."""
    found: dict[tuple[str, str, str], list[Mapping[str, str]]] = {}
    for finding in proof.findings:
        if f"{finding.at}/{finding.what}" == load and not finding.is_memory:
            found[finding.outcome, finding.before, finding.after] = finding.positions()
    assert found, f"nothing is said of {load}"
    return found


def unsafe(proof: Proof) -> dict[tuple[str, str], list[Mapping[str, str]]]:
    """Kind and address of each new hazard, with the positions."""
    return {(h.kind, h.at): h.positions() for h in proof.hazards if not h.was_before}


def faults(proof: Proof) -> set[tuple[str, str, str]]:
    """Kind, what and where of each fault."""
    return {(f.kind, f.what, f.at) for f in proof.faults}
