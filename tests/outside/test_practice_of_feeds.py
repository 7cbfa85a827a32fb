"""The lines of the trade's practice on chains, charging, gauges, fuses and feeds; common practice, no source.

Each test is one claim of a line, on a tiny invented loom. Lines that need the resistance of wires, real
filaments or currents against limits belong to a later stage.
"""

from small_looms import Bench, make_parts, prove
from trade_parts import IGN, PARTS, bench, said

# -- 3: daisy chains ---------------------------------------------------------------------------------------


def test_line_3_end_taken_out_of_a_chain_and_covered_keeps_what_lies_beyond_fed():
    before = bench({"a": "lamp", "b": "lamp"}, "w = feed:live > a:a > b:a", "e = a:E > b:E > earth")
    folded = before.changed(
        wires=["w = feed:live > loose > b:a", "e = loose > b:E > earth"], places={"b": "lamp"}
    )
    broken = folded.changed(wires=["w = loose > b:a", "e = b:E > earth"])
    assert said(prove(before, folded), "b/shine") == set()
    assert said(prove(before, broken), "b/shine") == {("lost", "full", "off")}


# -- 15, 16, 18: charging and instruments ------------------------------------------------------------------


def test_line_15_charge_lamp_sits_between_ignition_and_armature_and_goes_out_when_they_are_equal():
    loom = bench(
        {"bat": "battery", "key": "key", "lamp": "tell-tale", "dynamo": "dynamo"},
        "bat:back > earth",
        "bat:live > key:30",
        "key:15 > lamp:a",
        "lamp:b > dynamo:D",
        feeds={},
        engine=["stopped", "running"],
    )
    assert loom.shows("lamp/tell-tale", key__ignition="on", engine="stopped") == "full"
    assert loom.shows("lamp/tell-tale", key__ignition="on", engine="running") == "off"


def test_line_16_oil_switch_closes_when_there_is_no_pressure(catalogue):
    """As shipped: the lamp is lit with the ignition on and no pressure, and goes out with it."""
    parts = {"oil": catalogue.parts["oil-pressure-switch"], "lamp": PARTS["tell-tale"]}
    loom = Bench(
        parts,
        {"dash": "lamp", "engine": "oil"},
        ["feed:ign > dash:a", "dash:b > engine:O"],
        IGN,
        {"oil pressure": ["absent", "present"]},
    )
    assert loom.shows_in("dash/tell-tale", {"oil pressure": "absent"}) == "full"
    assert loom.shows_in("dash/tell-tale", {"oil pressure": "present"}) == "off"


def test_line_18_ammeter_replaced_by_a_voltmeter_means_joining_its_leads():
    before = bench(
        {"dash": "ammeter", "lamp": "lamp"},
        "in = feed:live > dash:a",
        "out = dash:b > lamp:a",
        "e = lamp:E > earth",
    )
    parted = before.changed(
        places={"dash": "voltmeter", "lamp": "lamp"},
        wires=["in = feed:live > dash:a", "out = loose > lamp:a", "e = lamp:E > earth", "v = dash:b > earth"],
    )
    joined = parted.changed(wires=[w.replace("loose", "dash:a") for w in parted.wires])
    swaps = [{"at": "dash", "fit": "voltmeter"}]
    assert said(prove(before, parted, swaps=swaps), "lamp/shine") == {("lost", "full", "off")}
    assert said(prove(before, joined, swaps=swaps), "lamp/shine") == set()
    assert joined.shows("dash/volts").startswith("reads")


def test_line_23_current_loop_tachometer_is_in_series_with_the_coil():
    """Tied back like any other instrument it takes the spark with it; its two leads joined, it does not."""
    parts = make_parts(
        """
        tachometer:
          terminals: {in: "15", out: "15"}
          inside: [{gauge: {between: [in, out], ohms: 0.05, full_scale_amps: 6, does: engine speed}}]
        coil:
          terminals: {SW: "15", case: mounting}
          inside: [{winding: {between: [SW, case], watts: 45, does: spark}}]
        """
    )
    wires = ["in = feed:key > dash:in", "out = dash:out > bay:SW"]
    key = {"key": {"role": "15"}}
    before = Bench(parts, {"dash": "tachometer", "bay": "coil"}, wires, key)
    parted = before.changed(places={"bay": "coil"}, wires=["in = feed:key > loose", "out = loose > bay:SW"])
    joined = parted.changed(wires=["in = feed:key > joint:dash", "out = joint:dash > bay:SW"])
    swaps = [{"at": "dash", "fit": "nothing"}]
    assert said(prove(before, parted, swaps=swaps), "bay/spark") == {("lost", "full", "off")}
    assert said(prove(before, joined, swaps=swaps), "bay/spark") == set()


# -- 19, 20, 21, 22: earths, fuses, feeds, ignition --------------------------------------------------------


def test_line_19_lamp_that_lost_its_earth_finds_one_through_its_neighbour():
    """The unearthed pair shares one earth: what is fed goes back through the other, dim, and lights it."""
    wires = [
        "f = feed:live > a:a",
        "n = b:a > c:a",
        "pair = a:E > b:E",
        "e = a:E > earth",
        "ce = c:E > earth",
    ]
    before = bench({"a": "lamp", "b": "lamp", "c": "lamp"}, *wires)
    lost = before.changed(wires=[w for w in wires if not w.startswith("e ")])
    proof = prove(before, lost)
    assert said(proof, "b/shine") == {("unintended", "off", "glows")}
    assert said(proof, "c/shine") == {("unintended", "off", "glows")}
    assert {outcome for outcome, _, _ in said(proof, "a/shine")} == {"lost"}


def test_line_20_fuse_fed_from_both_ends_stays_live_when_one_lead_is_pulled():
    both = bench(
        {"box": "box", "lamp": "lamp"},
        "feed:live > box:B",
        "other = feed:live > box:1 > lamp:a",
        "lamp:E > earth",
    )
    pulled = both.changed(wires=[w for w in both.wires if "box:B" not in w])
    single = both.changed(wires=["feed:live > box:B", "other = box:1 > lamp:a", "lamp:E > earth"])
    dead = single.changed(wires=[w for w in single.wires if "box:B" not in w])
    assert pulled.shows("lamp/shine") == "full"
    assert dead.shows("lamp/shine") == "off"


def test_line_20_link_inside_a_fuse_box_may_tie_two_feeds():
    feeds = {"live": {"role": "30"}, "ign": {"role": "15", "when": {"ignition": ["on"]}}}
    linked = make_parts(
        """
        linked:
          terminals: {B: "30", I: "15", "1": "30", "2": "15"}
          inside:
            - fuse: {between: [B, "1"], amps: 8}
            - fuse: {between: [I, "2"], amps: 8}
            - contact: {join: ["1", "2"]}
        apart:
          terminals: {B: "30", I: "15", "1": "30", "2": "15"}
          inside: [{fuse: {between: [B, "1"], amps: 8}}, {fuse: {between: [I, "2"], amps: 8}}]
        """
    )
    before = Bench(
        linked,
        {"box": "apart"},
        ["feed:live > box:B", "feed:ign > box:I"],
        feeds,
        {"ignition": ["off", "on"]},
    )
    after = before.changed(places={"box": "linked"})
    found = {
        h.kind: h.positions() for h in prove(before, after, swaps=[{"at": "box", "fit": "linked"}]).hazards
    }
    assert found["feeds-tied"] == [{"ignition": "on"}]
    assert found["back-feed"] == [{"ignition": "off"}]


def test_line_21_second_wire_on_a_feed_terminal_may_be_the_onward_feed_of_everything_else():
    wires = ["in = feed:live > dash:30", "on = dash:30 > far:a", "e = far:E > earth"]
    before = bench({"dash": "switch", "far": "lamp"}, *wires)
    spare = before.changed(wires=[w.replace("on = dash:30", "on = loose") for w in wires])
    assert said(prove(before, spare), "far/shine") == {("lost", "full", "off")}


CRANKING = {
    "bat": "battery",
    "key": "key",
    "sol": "solenoid",
    "st": "starter",
    "bal": "ballast",
    "coil": "ignition-coil",
}
CRANKING_WIRES = (
    "neg = bat:back > earth",
    "main = bat:live > key:30 > sol:B",
    "motor = sol:M > st:M",
    "trigger = key:50 > sol:S",
    "in = key:15 > bal:a",
    "out = bal:b > coil:a",
    "e = coil:E > earth",
)


def test_line_22_accessories_drop_out_while_cranking_and_the_coils_feed_must_not():
    loom = bench(
        {**CRANKING, "radio": "lamp"},
        *CRANKING_WIRES,
        "acc = key:acc > radio:a",
        "re = radio:E > earth",
        feeds={},
    )
    assert loom.shows("radio/shine", key__ignition="on") == "full"
    assert loom.shows("radio/shine", key__ignition="start") == "off"
    assert (
        loom.shows("coil/spark", key__ignition="start")
        == loom.shows("coil/spark", key__ignition="on")
        != "off"
    )


def test_line_22_ballast_bypass_from_the_trigger_keeps_the_starter_in():
    """Released to "on", the coil's feed flows back through the bypass and holds the plunger."""
    plain = bench(CRANKING, *CRANKING_WIRES, feeds={})
    bypassed = plain.changed(wires=[*CRANKING_WIRES, "bypass = sol:S > coil:a"])
    started = {"key/ignition": "on", "sol/plunger": "pulled"}
    assert plain.all_appearances("st/crank", started) == {"off"}
    assert bypassed.all_appearances("st/crank", started) == {"full"}
    diode = plain.changed(
        places={**CRANKING, "d": "diode"},
        wires=[*CRANKING_WIRES, "bypass = sol:S > d:a", "on = d:k > coil:a"],
    )
    assert diode.all_appearances("st/crank", started) == {"off"}
    assert diode.shows("coil/spark", key__ignition="start") == "full"
