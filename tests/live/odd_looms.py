"""Tiny looms that chatter, race, short and share."""

from small_looms import Bench, make_parts

PARTS = make_parts(
    """
    switch:
      terminals: {"30": "30", "58": "58"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
    relay:
      terminals: {"30": "30", "87": "", "87a": "", "86": "", "85": "31"}
      inside:
        - coil: {between: ["86", "85"], ohms: 80, pulls_in_v: 8, drops_out_v: 3, name: armature}
        - contact: {join: ["30", "87"], when: {armature: pulled}}
        - contact: {join: ["30", "87a"], when: {armature: released}}
    lamp:
      terminals: {a: "", b: ""}
      inside: [{lamp: {between: [a, b], watts: 21, does: shine}}]
    box: {terminals: {B: "30", "1": "30"}, inside: [{fuse: {between: [B, "1"], amps: 8}}]}
    """
)
BASE = Bench(
    PARTS,
    {"box": "box", "dash": "switch", "lamp": "lamp"},
    ["in = feed:live > box:B", "fed = box:1 > dash:30"],
    {"live": {"role": "30"}},
)
RELAYS = {**BASE.places, "one": "relay", "two": "relay"}
CHATTERING = BASE.changed(
    places=RELAYS,
    wires=[*BASE.wires, "on = dash:58 > one:30", "own = one:87a > one:86 > lamp:a", "e = one:85 > earth",
           "le = lamp:b > earth"],
)  # fmt: skip
RACING = BASE.changed(
    places=RELAYS,
    wires=[*BASE.wires, "on = dash:58 > one:30 > two:30", "x = one:87a > two:86", "y = two:87a > one:86",
           "e = one:85 > two:85 > earth", "l = one:87 > lamp:a", "le = lamp:b > earth"],
)  # fmt: skip
SHORTED = BASE.changed(wires=[*BASE.wires, "on = dash:58 > lamp:a", "short = lamp:a > earth"])
IN_ROW = BASE.changed(
    places={**BASE.places, "next": "lamp", "third": "lamp"},
    wires=[
        *BASE.wires,
        "on = dash:58 > lamp:a",
        "mid = lamp:b > next:a > third:a",
        "e = next:b > third:b > earth",
    ],
)
TWICE_EARTHED = BASE.changed(
    wires=[*BASE.wires, "on = dash:58 > lamp:a", "e1 = lamp:b > earth", "e2 = lamp:b > earth"]
)
BRIDGED = BASE.changed(
    places={**BASE.places, "next": "lamp", "second": "lamp"},
    wires=[*BASE.wires, "on = dash:58 > lamp:a > second:a", "mid = lamp:b > next:a > second:b",
           "e = next:b > earth"],
)  # fmt: skip
BALANCED = BASE.changed(
    places={**BASE.places, "next": "lamp", "second": "lamp", "third": "lamp"},
    wires=[*BASE.wires, "on = dash:58 > lamp:a > second:a", "mid = lamp:b > next:a > second:b > third:a",
           "e = next:b > third:b > earth"],
)  # fmt: skip
ONE_BY_THE_OTHER = BASE.changed(
    places=RELAYS,
    wires=[*BASE.wires, "on = dash:58 > two:86 > two:30 > one:30", "next = two:87 > one:86",
           "e = one:85 > two:85 > earth", "l = one:87 > lamp:a", "le = lamp:b > earth"],
)  # fmt: skip
ALL = {
    "bridged": BRIDGED,
    "balanced": BALANCED,
    "one by the other": ONE_BY_THE_OTHER,
    "chattering": CHATTERING,
    "racing": RACING,
    "shorted": SHORTED,
    "in a row": IN_ROW,
    "twice earthed": TWICE_EARTHED,
}
