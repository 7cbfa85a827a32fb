"""A lamp behind a switch behind a fuse, and what may be odd about it; each test changes what it is about."""

from small_looms import Bench, make_parts

from planner.inquiry.loom.account import LoomAccount
from planner.inquiry.loom.explain import explain

PARTS = make_parts(
    """
fuse: {terminals: {in: "30", out: ""}, inside: [fuse: {between: [in, out], amps: 8}]}
switch:
  terminals: {in: "", out: ""}
  inside:
    - control: {name: switch, positions: ["off", "on"]}
    - contact: {join: [in, out], when: {switch: "on"}}
lamp: {terminals: {L: "", case: mounting}, inside: [lamp: {between: [L, case], watts: 5, does: shine}]}
two-wire-lamp: {terminals: {L: "", E: "31"}, inside: [lamp: {between: [L, E], watts: 5, does: shine}]}
push: {terminals: {P: "", case: mounting}, inside: [
  control: {name: push, positions: [released, pressed]}, contact: {join: [P, case], when: {push: pressed}}]}
battery: {terminals: {"+": "30", "-": "31"}, inside: [source: {between: ["+", "-"], volts: 12}]}
ammeter: {terminals: {"1": "", "2": ""}, inside: [
  gauge: {between: ["1", "2"], ohms: 0.002, full_scale_amps: 4, does: ammeter}]}
needy: {terminals: {a: "30", b: "15", c: "31", d: "49a"}}
"""
)
FEED = {"in": {"role": "30"}}
PLACES = {"fuse": "fuse", "switch": "switch", "lamp": "lamp"}
WIRES = ("W1 = feed:in > fuse:in", "W2 = fuse:out > switch:in", "W3 = switch:out > lamp:L")


def bench(**other: object) -> Bench:
    """The tiny loom, or what a test makes of it."""
    given: dict[str, object] = {"parts": PARTS, "places": PLACES, "wires": WIRES, "feeds": FEED}
    return Bench(**{**given, **other})  # type: ignore[arg-type]


def explained(**other: object) -> LoomAccount:
    """The tiny loom explained."""
    made = bench(**other)
    return explain(made.loom, made.catalogue)


def texts(kind: str, **other: object) -> list[str]:
    """What is found of one kind."""
    return [f"{line.text} {line.when}".strip() for line in explained(**other).findings if line.kind == kind]
