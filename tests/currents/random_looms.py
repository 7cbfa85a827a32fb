"""Small looms drawn by chance: a battery, a trunk that branches, switches, relays, lamps and motors."""

import random
from typing import Any

from small_looms import Bench, make_parts

PARTS = """
battery:
  volts: 12
  terminals: {"+": "30", "-": "31"}
  inside: [{source: {between: ["+", "-"], volts: 12}}]
switch:
  terminals: {A: "30", B: "58", C: "58"}
  inside:
    - control: {name: knob, positions: ["off", one, both]}
    - contact: {join: [A, B], when: {knob: [one, both]}}
    - contact: {join: [A, C], when: {knob: both}}
changeover:
  terminals: {A: "30", B: "58", C: "58"}
  inside:
    - control: {name: lever, positions: [left, right]}
    - contact: {join: [A, B], when: {lever: left}}
    - contact: {join: [A, C], when: {lever: right}}
relay:
  terminals: {"30": "30", "87": "87", "86": "86", "85": "31"}
  inside:
    - coil: {between: ["86", "85"], ohms: 80, pulls_in_v: 7, drops_out_v: 3, name: armature}
    - contact: {join: ["30", "87"], when: {armature: pulled}}
fuse:
  terminals: {A: "30", B: "30"}
  inside: [{fuse: {between: [A, B], amps: 20}}]
lamp:
  terminals: {A: "58", E: "31"}
  inside: [{lamp: {between: [A, E], watts: 21, does: shine}}]
headlamp:
  terminals: {A: "56", E: "31"}
  inside: [{lamp: {between: [A, E], watts: 60, does: shine}}]
motor:
  terminals: {A: "53", E: "31"}
  inside: [{winding: {between: [A, E], watts: 100, does: turn}}]
"""


def draw(seed: int) -> Bench:
    """A loom; a few hundred positions at most."""
    chance = random.Random(seed)
    places: dict[str, str] = {"bat": "battery"}
    wires = ["bat:+ > joint:0", "bat:- > earth:z"]
    live = ["joint:0"]  # where something may be fed from
    for count in range(1, chance.randint(1, 3) + 1):  # the trunk
        kind = chance.choice(["wire", "fuse"])
        start, end = chance.choice(live), f"joint:{count}"
        if kind == "fuse":
            places[f"f{count}"] = "fuse"
            wires += [f"{start} > f{count}:A", f"f{count}:B > {end}"]
        else:
            wires.append(f"{start} > {end}")
        live.append(end)
    fed = list(live)
    switched = []
    for number in range(chance.randint(2, 4)):
        kind = chance.choice(["switch", "switch", "changeover"])
        places[f"s{number}"] = kind
        wires.append(f"{chance.choice(live)} > s{number}:A")
        switched += [f"s{number}:B", f"s{number}:C"]
    if chance.random() < 0.6:
        places["r0"] = "relay"
        wires += [f"{chance.choice(switched)} > r0:86", "r0:85 > earth:z", f"{chance.choice(fed)} > r0:30"]
        switched.append("r0:87")
    for number in range(chance.randint(3, 6)):
        kind = chance.choice(["lamp", "lamp", "headlamp", "motor"])
        places[f"l{number}"] = kind
        wires.append(f"{chance.choice(switched)} > l{number}:A")
        wires.append(f"l{number}:E > {chance.choice(['earth:z', 'joint:ground'])}")
    wires.append("joint:ground > earth:z")
    more: dict[str, Any] = {"zones": {"z": {}, "y": {}}}
    return Bench(make_parts(PARTS), places, wires, more=more)
