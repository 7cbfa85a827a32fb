"""An engine with alternator, charge lamp, key and a coil: what is seen when it is switched off."""

from small_looms import Bench, make_parts

PARTS = make_parts(
    """
    battery:
      terminals: {+: {role: "30", holds: 3}, -: "31"}
      inside: [{source: {between: [+, -], volts: 12}}]
    alternator:
      terminals: {B: {role: "30", holds: 2}, "D+": D+, case: mounting}
      inside:
        - source: {between: [B, case], volts: 12, most_amps: 45, when: {engine: running}}
        - source: {between: ["D+", case], volts: 12, most_amps: 3, when: {engine: running}}
    key:
      terminals: {"30": "30", "15": {role: "15", holds: 3}}
      inside:
        - control: {name: ignition, positions: ["off", "on"]}
        - contact: {join: ["30", "15"], when: {ignition: "on"}}
    lamp:
      terminals: {I: "15", W: "61"}
      inside: [{lamp: {between: [I, W], watts: 5, does: charge lamp}}]
    oil:
      terminals: {I: "15", case: mounting}
      inside: [{lamp: {between: [I, case], watts: 2, does: oil lamp}}]
    coil:
      terminals: {SW: "15", case: mounting}
      inside: [{winding: {between: [SW, case], watts: 46, does: ignition spark}}]
    module:
      terminals: {SW: "15", case: mounting}
      inside: [{winding: {between: [SW, case], watts: 1, does: ignition spark}}]
    """
)
WIRES = [
    "bat:- > earth",
    "bat:+ > key:30",
    "bat:+ > alt:B",
    "key:15 > charge:I",
    "key:15 > oil:I",
    "key:15 > coil:SW",
]
LAMP = "tell-tale = alt:D+ > charge:W"


def bench(coil: str, *wires: str) -> Bench:
    places = {
        "bat": "battery",
        "alt": "alternator",
        "key": "key",
        "charge": "lamp",
        "oil": "oil",
        "coil": coil,
    }
    return Bench(PARTS, places, [*WIRES, *wires], conditions={"engine": ["stopped", "running"]})
