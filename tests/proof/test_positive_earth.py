"""A positive-earth loom is the mirror image: the same behaviours, but diodes and LEDs the other way round."""

import pytest
from small_looms import Bench, make_parts, prove
from tiny import outcomes, unsafe

PARTS = make_parts(
    """
    switch:
      terminals: {"30": "30", "58": "58"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
    lamp:
      terminals: {"58": "58", "31": "31"}
      inside: [{lamp: {between: ["58", "31"], watts: 5, does: shine}}]
    led:
      terminals: {"58": "58", "31": "31"}
      inside: [{led: {between: ["58", "31"], watts: 5, does: shine}}]
    led-turned:
      terminals: {"58": "58", "31": "31"}
      inside: [{led: {between: ["31", "58"], watts: 5, does: shine}}]
    battery:
      terminals: {plus: "", minus: ""}
      inside: [{source: {between: [plus, minus], volts: 12}}]
    battery-turned:
      terminals: {plus: "", minus: ""}
      inside: [{source: {between: [minus, plus], volts: 12}}]
    relay-with-diode:
      terminals: {"86": "86", "85": "85"}
      inside:
        - coil: {between: ["86", "85"], ohms: 60, pulls_in_v: 7.5, drops_out_v: 3, does: pull, name: armature}
        - diode: {between: ["85", "86"]}
    cut-out:
      terminals: {D: "30", A: "30"}
      inside: [{diode: {between: [D, A], drop_v: 0}}]
    """
)
WIRES = ["feed:live > dash:30", "out = dash:58 > rear:58", "rear:31 > earth"]
LIVE = {"live": {"role": "30"}}


def loom(part: str, earthed: str) -> Bench:
    return Bench(PARTS, {"dash": "switch", "rear": part}, WIRES, LIVE, earthed=earthed)


@pytest.mark.parametrize(
    ("part", "earthed", "looks"),
    [
        ("lamp", "negative", "full"),
        ("lamp", "positive", "full"),
        ("led", "negative", "full"),
        ("led", "positive", "off"),
        ("led-turned", "negative", "off"),
        ("led-turned", "positive", "full"),
    ],
)
def test_only_what_has_a_direction_minds_the_polarity(part: str, earthed: str, looks: str) -> None:
    assert loom(part, earthed).shows("rear/shine", dash__light="on") == looks
    assert loom(part, earthed).shows("rear/shine", dash__light="off") == "off"


@pytest.mark.parametrize("earthed", ["negative", "positive"])
def test_proof_is_the_same_for_both_polarities(earthed: str) -> None:
    before = loom("lamp", earthed)
    after = before.changed(wires=[w for w in WIRES if not w.startswith("out")])
    assert outcomes(prove(before, after), "rear/shine")["lost", "full", "off"] == [{"dash/light": "on"}]


def test_lamp_swapped_for_an_led_is_lost_only_where_the_led_is_reversed() -> None:
    for earthed, lost in (("negative", False), ("positive", True)):
        found = outcomes(prove(loom("lamp", earthed), loom("led", earthed)), "rear/shine")
        assert (("lost", "full", "off") in found) == lost


@pytest.mark.parametrize(("earthed", "battery"), [("negative", "battery"), ("positive", "battery-turned")])
def test_live_pole_of_a_battery_is_the_one_that_is_not_earthed(earthed: str, battery: str) -> None:
    """``between`` names the live pole first: minus on a positive-earth vehicle."""
    live, back = ("plus", "minus") if earthed == "negative" else ("minus", "plus")
    bench = Bench(
        PARTS,
        {"battery": battery, "rear": "lamp"},
        [f"battery:{live} > rear:58", f"rear:31 > battery:{back} > earth"],
        earthed=earthed,
    )
    assert bench.shows("rear/shine") == "full"
    assert bench.volts_at("rear:58", {}) == (12.0 if earthed == "negative" else -12.0)


def test_relay_with_a_diode_is_a_short_when_the_polarity_or_its_ends_are_reversed() -> None:
    right = ["feed:live > dash:30", "in = dash:58 > relay:86", "relay:85 > earth"]
    wrong = ["feed:live > dash:30", "in = dash:58 > relay:85", "relay:86 > earth"]
    places = {"dash": "switch", "relay": "relay-with-diode"}
    for earthed, good, bad in (("negative", right, wrong), ("positive", wrong, right)):
        sound = Bench(PARTS, places, good, LIVE, earthed=earthed)
        crossed = sound.changed(wires=bad)
        assert unsafe(prove(sound, sound)) == {}
        assert unsafe(prove(sound, crossed)) == {("short", "feed:live"): [{"dash/light": "on"}]}


@pytest.mark.parametrize("earthed", ["negative", "positive"])
def test_cut_out_lets_the_generators_current_home_and_none_back_whichever_pole_is_live(earthed: str) -> None:
    """It is written as a diode without drop, and is a contact."""
    home = ["feed:live > box:D", "box:A > rear:58", "rear:31 > earth"]
    back = ["feed:live > box:A", "box:D > rear:58", "rear:31 > earth"]
    places = {"box": "cut-out", "rear": "lamp"}
    assert Bench(PARTS, places, home, LIVE, earthed=earthed).shows("rear/shine") == "full"
    assert Bench(PARTS, places, back, LIVE, earthed=earthed).shows("rear/shine") == "off"
