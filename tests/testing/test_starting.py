"""When a starter comes in is told by what hands set: with two ways to it, behind a relay, past a gearbox."""

import pytest
from inspected import inspected
from small_looms import Bench, make_parts

from planner.testing.interlocks import hindrances
from planner.testing.starting import Starter, starters

PARTS = make_parts("""
solenoid: {terminals: {S: {role: "50"}, E: mounting},
           inside: [{coil: {between: [S, E], ohms: 4, pulls_in_v: 7, drops_out_v: 3, name: armature}}]}
key: {terminals: {A: "30", O: ""},
      inside: [{control: {name: key, positions: ["off", start], returns: "off"}},
               {contact: {join: [A, O], when: {key: start}}}]}
push: {terminals: {A: "30", O: ""},
       inside: [{control: {name: push, positions: [released, pressed], returns: released}},
                {contact: {join: [A, O], when: {push: pressed}}}]}
gearbox: {terminals: {A: "", O: ""}, inside: [{contact: {join: [A, O], when: {gear: park}}}]}
relay: {terminals: {"30": "30", "87": "87", "86": "86", "85": "85"},
        inside: [{coil: {between: ["86", "85"], ohms: 80, pulls_in_v: 7, drops_out_v: 3, name: armature}},
                 {contact: {join: ["30", "87"], when: {armature: pulled}}}]}
""")
PLACES = {"sol": "solenoid", "key": "key", "push": "push", "relay": "relay", "box": "gearbox"}


def found(*wires: str, more: dict[str, str] | None = None) -> Starter:
    used = {place: part for place, part in PLACES.items() if any(f"{place}:" in wire for wire in wires)}
    some = Bench(PARTS, used, wires, {"x": {"role": "30"}}, {"gear": ["park", "drive"]} | (more or {}))
    (starter,) = starters(inspected(some))
    return starter


@pytest.mark.parametrize(
    ("wires", "when", "is_all"),
    [
        (("feed:x > key:A", "key:O > push:A", "push:O > sol:S"), "with key at start and push pressed", True),
        (("feed:x > key:A > push:A", "key:O > sol:S > push:O"), "with key at start or push pressed", False),
    ],
)
def test_one_after_the_other_and_side_by_side_are_told_apart(
    wires: tuple[str, ...], when: str, is_all: bool
) -> None:
    starter = found(*wires)
    assert (starter.when.replace("the ", ""), starter.is_all) == (when, is_all)
    assert starter.controls == ("key/key", "push/push")


BY_RELAY = ("feed:x > key:A > relay:30", "relay:87 > sol:S", "relay:85 > earth")


def test_behind_a_relay_it_is_what_works_the_relay_that_counts() -> None:
    starter = found(*BY_RELAY, "key:O > relay:86")
    assert starter.when == "with the key at start" and starter.controls == ("key/key",)
    assert starter.places == {"sol", "relay", "key", "feed"} and starter.is_all


def test_a_gearbox_switch_before_a_relay_hinders_the_starter_behind_it() -> None:
    wires = (*BY_RELAY, "key:O > box:A", "box:O > relay:86")
    starter = found(*wires)
    assert set(starter.controls) == {"gear", "key/key"} and {"box", "key"} <= starter.places
    some = Bench(PARTS, {p: PLACES[p] for p in ("sol", "key", "relay", "box")}, wires,
                 {"x": {"role": "30"}}, {"gear": ["park", "drive"]})  # fmt: skip
    assert hindrances(some.loom, starter) == ("gear",)
