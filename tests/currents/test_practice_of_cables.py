"""The line of the trade's practice on engine straps, with every resistance; common practice, no source."""

from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents.inspect import strains
from planner.model.delta import copy_loom

PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    key:
      terminals: {in: "30", out: "50"}
      inside:
        - control: {name: key, positions: ["off", "on"]}
        - contact: {join: [in, out], when: {key: "on"}}
    starter:
      terminals: {M: "50", E: "31"}
      inside: [{winding: {between: [M, E], watts: 900, does: crank}}]
    """
)
SIZES = {"W1": 25.0, "W2": 25.0, "W3": 25.0, "strap": 25.0, "choke": 1.0}
WIRES = ["bay:+ > dash:in", "dash:out > engine:M", "bay:- > earth", "choke = engine:E > earth"]


def choke_cable_is_strained(*more: str) -> bool:
    """Whether the choke cable, a wire of 1 mm2, carries more than it stands while the engine is cranked."""
    some = Bench(PARTS, {"bay": "battery", "dash": "key", "engine": "starter"}, [*WIRES, *more])
    wires = tuple(w.model_copy(update={"mm2": (SIZES[w.wire],)}) for w in some.loom.wires)
    some.__dict__["loom"] = copy_loom(some.loom, wires=wires)
    return any(s.kind == "wire" and s.at == "choke" and s.is_over for s in strains(inspected(some)))


def test_line_29_missing_engine_strap_sends_the_starters_return_through_the_choke_cable() -> None:
    assert choke_cable_is_strained()
    assert not choke_cable_is_strained("strap = engine:E > earth")
