"""Which fuse guards a wire: that of a load which takes its current through both."""

from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents.inspect import strains

PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    small: {terminals: {in: "", out: ""}, inside: [{fuse: {between: [in, out], amps: 5}}]}
    large: {terminals: {in: "", out: ""}, inside: [{fuse: {between: [in, out], amps: 20}}]}
    switch:
      terminals: {in: "", out: ""}
      inside:
        - control: {name: knob, positions: ["off", "on"]}
        - contact: {join: [in, out], when: {knob: "on"}}
    left: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 21, does: flash left}}]}
    right: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 21, does: flash right}}]}
    armature: {terminals: {D: "", case: mounting}, inside: [{resistor: {between: [D, case], ohms: 0.4}}]}
    tell-tale: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 2, does: tell}}]}
    """
)


def guarded() -> dict[str, tuple[str, ...]]:
    """The fuse before each wire of two lamps with a fuse and a switch each, and of a tell-tale between."""
    bench = Bench(
        PARTS,
        {"bat": "battery", "f": "large", "g": "small", "s": "switch", "t": "switch",
         "p": "left", "q": "right", "i": "tell-tale"},
        ["bat:+ > f:in", "bat:+ > g:in", "bat:- > earth:z", "f:out > s:in", "g:out > t:in",
         "A = s:out > p:a", "B = t:out > q:a", "C = i:a > p:a", "D = i:b > q:a",
         "p:b > earth:z", "q:b > earth:z"],
    )  # fmt: skip
    return {s.at: s.path for s in strains(inspected(bench)) if s.kind == "fuse-over-wire"}


def test_each_lamp_is_fed_through_its_own() -> None:
    found = guarded()
    assert (found["A"], found["B"]) == (("f:out",), ("g:out",))


def test_what_a_lamp_takes_by_way_of_another_says_nothing_of_its_fuse() -> None:
    """The tell-tale returns through the lamp that is off: what flows there is the tell-tale's own."""
    found = guarded()
    assert (found["C"], found["D"]) == (("f:out",), ("g:out",))


def test_what_comes_through_a_lamp_is_limited_by_that_and_no_fuse_guards_the_wire_behind_it() -> None:
    """A charge lamp on the armature: most of what that takes, while it stands, comes through the lamp."""
    bench = Bench(
        PARTS,
        {"bat": "battery", "f": "large", "s": "switch", "i": "tell-tale", "a": "armature"},
        ["bat:+ > f:in", "bat:- > earth:z", "f:out > s:in", "A = s:out > i:a", "B = i:b > a:D"],
    )
    found = {s.at: s.path for s in strains(inspected(bench)) if s.kind == "fuse-over-wire"}
    assert found["A"] == ("f:out",)
    assert "B" not in found
