"""What each conductor is, computed from the circuit alone."""

from small_looms import Bench, make_parts

from planner.model.facts import ConductorFact
from planner.proof.facts import conductor_facts

PARTS = make_parts(
    """
    key:
      terminals: {"30": "30", "15": "15", "50": ""}
      inside:
        - control: {name: ignition, positions: ["off", "on", start]}
        - contact: {join: ["30", "15"], when: {ignition: ["on", start]}}
        - contact: {join: ["30", "50"], when: {ignition: start}}
    box:
      terminals: {B: "30", "1": "30"}
      inside: [{fuse: {between: [B, "1"], amps: 8}}]
    switch:
      terminals: {"30": "30", "58": "58"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
    push:
      terminals: {H: return, case: mounting}
      inside:
        - control: {name: push, positions: ["off", "on"]}
        - contact: {join: [H, case], when: {push: "on"}}
    lamp:
      terminals: {"58": "58", "31": "31"}
      inside: [{lamp: {between: ["58", "31"], watts: 5, does: side lamp}}]
    horn:
      terminals: {"+": "30", "-": return}
      inside: [{lamp: {between: ["+", "-"], watts: 60, does: horn}}]
    """
)
LOOM = Bench(
    PARTS,
    {
        "key": "key",
        "box": "box",
        "dash": "switch",
        "push": "push",
        "lamp": "lamp",
        "horn": "horn",
        "spare": "lamp",
        "kill": "switch",
        "far": "box",
    },
    [
        "feed:live > key:30 > box:B",
        "box:1 > dash:30 > horn:+",
        "dash:58 > lamp:58",
        "lamp:31 > earth",
        "horn:- > push:H",
        "key:15 > kill:30",
        "key:50 > loose",
    ],
    {"live": {"role": "30"}, "edge": {"role": "58", "fuse_amps": 5}},
)


def fact(address: str, bench: Bench = LOOM) -> ConductorFact:
    return conductor_facts(bench.loom, bench.catalogue).at(address)


def test_feed_is_always_live_and_fused_where_a_fuse_is() -> None:
    unfused, fused = fact("key:30"), fact("dash:30")
    assert (unfused.nature, unfused.live, unfused.fuse) == ("always-live", "always", None)
    assert (fused.nature, fused.fuse, fused.fuse_amps) == ("always-live", "box:1", 8)


def test_feed_at_the_edge_is_its_own_fuse() -> None:
    edge = fact("feed:edge")
    assert (edge.fuse, edge.fuse_amps) == ("feed:edge", 5)
    assert fact("feed:live").fuse is None


def test_what_the_key_alone_switches_on_is_ignition_live() -> None:
    found = fact("kill:30")
    assert (found.nature, found.live) == ("ignition-live", "sometimes")
    assert found.depends_on == ("key/ignition",)
    assert found.when == "with the key not at off"


def test_a_key_switch_is_known_by_what_it_gives_and_not_by_the_name_of_its_control() -> None:
    parts = {
        **PARTS,
        **make_parts(
            """
            combined:
              family: ignition-switch
              terminals: {"30": "30", "15": "15", "58": "58", "50": ""}
              inside:
                - control: {name: barrel, positions: ["0", drive, crank], returns: drive}
                - control: {name: ring, positions: ["0", side]}
                - contact: {join: ["30", "15"], when: {barrel: [drive, crank]}}
                - contact: {join: ["30", "50"], when: {barrel: crank}}
                - contact: {join: ["30", "58"], when: {ring: side}}
            """
        ),
    }
    loom = LOOM.changed(
        parts=parts, places={**LOOM.places, "key": "combined"}, wires=[*LOOM.wires, "key:58 > far:B"]
    )
    assert fact("kill:30", loom).nature == "ignition-live"
    assert fact("far:B", loom).nature == fact("key:50", loom).nature == "switched-live"


def test_what_is_live_only_while_cranking_is_not_ignition_live() -> None:
    assert fact("key:50").nature == "switched-live"
    assert "start" in fact("key:50").when


def test_what_another_switch_switches_is_switched_live() -> None:
    found = fact("lamp:58")
    assert (found.nature, found.depends_on) == ("switched-live", ("dash/light",))
    assert found.when == "with the dash on"


def test_conductor_names_the_loads_that_hang_on_it() -> None:
    assert fact("dash:58").loads == (("lamp", "side lamp"),)
    assert fact("dash:30").loads == (("horn", "horn"),)
    assert fact("dash:58").addresses == ("dash:58", "lamp:58")


def test_body_and_what_is_wired_to_it_is_earth() -> None:
    for address in ("lamp:31", "push:case", "earth:z"):
        found = fact(address)
        assert (found.nature, found.earthed) == ("earth", "always"), address


def test_mounting_on_an_insulated_panel_is_no_earth() -> None:
    insulated = LOOM.changed(places={**LOOM.places, "push": "push!insulated"})
    assert fact("push:case", insulated).nature != "earth"
    doubtful = LOOM.changed(places={**LOOM.places, "push": "push!doubtful"})
    assert fact("push:case", doubtful).nature == "earth"


def test_what_a_push_earths_is_switched_earth() -> None:
    found = fact("horn:-")
    assert (found.nature, found.earthed, found.live) == ("switched-earth", "sometimes", "never")
    assert found.when == "with the push on"


def test_what_hangs_behind_a_load_is_the_loads() -> None:
    behind = LOOM.changed(wires=[w for w in LOOM.wires if not w.startswith("lamp:31")])
    assert fact("lamp:31", behind).nature == "load"


def test_terminal_without_a_wire_is_dead() -> None:
    assert fact("far:B").nature == "dead"
    assert fact("nowhere:1").nature == "dead"


def test_positive_earth_gives_the_same_facts() -> None:
    """30 means live, not plus."""
    mirrored = LOOM.changed(earthed="positive")
    one = conductor_facts(LOOM.loom, LOOM.catalogue)
    other = conductor_facts(mirrored.loom, mirrored.catalogue)
    assert one == other


def test_what_lies_behind_an_ammeter_is_live_and_behind_any_other_instrument_it_is_not() -> None:
    parts = make_parts(
        """
        ammeter:
          terminals: {BAT: "30", GEN: "30"}
          inside: [{gauge: {between: [BAT, GEN], ohms: 0.002, full_scale_amps: 30, does: ammeter}}]
        gauge:
          terminals: {I: "15", S: fuel-sender}
          inside: [{gauge: {between: [I, S], ohms: 80, full_scale_amps: 0.1, does: fuel gauge}}]
        """
    )
    places = {"a": "ammeter", "g": "gauge"}
    bench = Bench(parts, places, ["feed:live > a:BAT > g:I"], {"live": {"role": "30"}})
    assert fact("a:GEN", bench).nature == "always-live"
    assert fact("g:S", bench).nature != "always-live"


def test_a_fuse_feeds_also_what_hangs_behind_a_switch_of_its_own() -> None:
    """A heater with its switch on it: its winding hangs on no terminal that is live."""
    parts = make_parts(
        """
        box:
          terminals: {B: "30", "1": "30"}
          inside: [{fuse: {between: [B, "1"], amps: 8}}]
        heater:
          terminals: {"30": "30", "31": "31"}
          nodes: [inner]
          inside:
            - control: {name: heat, positions: ["off", "on"]}
            - contact: {join: ["30", inner], when: {heat: "on"}}
            - lamp: {between: [inner, "31"], watts: 60, does: warm}
        """
    )
    bench = Bench(
        parts,
        {"box": "box", "heater": "heater"},
        ["feed:live > box:B", "heater:31 > earth", "box:1 > heater:30"],
        {"live": {"role": "30"}},
    )
    facts = conductor_facts(bench.loom, bench.catalogue)
    assert facts.fused_loads == {"box:1": (("heater", "warm"),)}
    assert facts.at("heater:30").loads == ()
