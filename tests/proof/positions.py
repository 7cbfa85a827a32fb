"""Variables of a van and of its doors, their positions, and what they are called in a sentence."""

from collections.abc import Mapping
from itertools import product

Variables = Mapping[str, tuple[str, ...]]
Position = tuple[str, ...]

LAMP, WIPER, TURN = "roof.lamp/lamp", "dash.wiper-switch/wiper", "column.turn-switch/turn"
DOORS: Variables = {LAMP: ("off", "on"), "left door": ("shut", "open"), "right door": ("shut", "open")}
TITLES = {LAMP: "the lamp switch", WIPER: "the wiper switch", TURN: "the turn switch"}
VAN: Variables = {
    WIPER: ("off", "slow", "fast", "intermittent"),
    "ignition": ("off", "on", "start"),
    TURN: ("straight", "left", "right"),
    LAMP: ("off", "on"),
    "left door": ("shut", "open"),
    "right door": ("shut", "open"),
    "brake pedal": ("free", "pressed"),
    "fuel": ("empty", "half", "full"),
}


def all_positions(variables: Variables) -> list[Position]:
    return list(product(*variables.values()))


def where(variables: Variables, claim: str) -> set[Position]:
    """Positions in which a claim over the values (as ``v``, by place) is true."""
    return {v for v in all_positions(variables) if eval(claim, {"v": v})}
