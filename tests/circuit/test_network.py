"""From loom to network: what joins earth, which names mean which variable, which pole is zero."""

import pytest
from small_looms import Bench, make_parts

PARTS = make_parts(
    """
    lamp:
      terminals: {a: "58", case: mounting}
      inside: [{lamp: {between: [a, case], watts: 5, does: shine}}]
    battery: {terminals: {live: "", back: ""}, inside: [{source: {between: [live, back], volts: 12}}]}
    dynamo:
      terminals: {D: "", case: mounting}
      inside: [{source: {between: [D, case], volts: 12, when: {engine: running}}}]
    switch:
      terminals: {a: "", b: ""}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: [a, b], when: {light: "on"}}
    follower:
      terminals: {a: "", b: ""}
      inside: [{contact: {join: [a, b], when: {light: "on"}}}]
    split:
      terminals: {in: "", out: "", E: "31"}
      nodes: [inner]
      inside:
        - contact: {join: [in, inner, out]}
        - lamp: {between: [inner, E], watts: 5, does: shine}
        - lamp: {between: [out, E], watts: 5, does: shine}
    """
)
LIVE = {"live": {"role": "30"}}


@pytest.mark.parametrize(("mounting", "looks"), [("", "full"), ("!doubtful", "full"), ("!insulated", "off")])
def test_mounting_earths_unless_it_is_insulated(mounting: str, looks: str) -> None:
    assert Bench(PARTS, {"p": f"lamp{mounting}"}, ["feed:live > p:a"], LIVE).shows("p/shine") == looks


def test_insulated_mounting_is_earthed_by_a_wire_on_it() -> None:
    wires = ["feed:live > p:a", "p:case > earth:z"]
    assert Bench(PARTS, {"p": "lamp!insulated"}, wires, LIVE).shows("p/shine") == "full"


def test_name_in_a_when_is_the_parts_own_before_the_vehicles() -> None:
    wires = ["feed:live > own:a > other:a", "own:b > one:a", "other:b > two:a"]
    places = {"own": "switch", "other": "follower", "one": "lamp", "two": "lamp"}
    bench = Bench(PARTS, places, wires, LIVE, {"light": ["off", "on"]})
    assert bench.shows_in("one/shine", {"own/light": "on", "light": "off"}) == "full"
    assert bench.shows_in("two/shine", {"own/light": "on", "light": "off"}) == "off"
    assert bench.shows_in("two/shine", {"own/light": "off", "light": "on"}) == "full"


def test_ends_that_are_loose_or_unknown_are_not_joined_to_each_other() -> None:
    wires = ["feed:live > loose", "loose > p:a", "feed:live > unknown", "unknown > q:a"]
    bench = Bench(PARTS, {"p": "lamp", "q": "lamp"}, wires, LIVE)
    assert (bench.shows("p/shine"), bench.shows("q/shine")) == ("off", "off")


def test_joiner_joins_what_ends_in_it() -> None:
    bench = Bench(PARTS, {"p": "lamp"}, ["feed:live > joint:j", "joint:j > p:a"], LIVE)
    assert bench.shows("p/shine") == "full"


def test_return_of_the_battery_is_zero_and_the_body_only_if_it_is_wired_to_it() -> None:
    lead = ["bat:live > p:a"]
    assert Bench(PARTS, {"bat": "battery", "p": "lamp"}, lead).shows("p/shine") == "off"
    assert (
        Bench(PARTS, {"bat": "battery", "p": "lamp"}, [*lead, "bat:back > earth"]).shows("p/shine") == "full"
    )


def test_generator_is_live_only_while_it_is_driven() -> None:
    places = {"bat": "battery", "dyn": "dynamo", "p": "lamp"}
    bench = Bench(PARTS, places, ["bat:back > earth", "dyn:D > p:a"], {}, {"engine": ["stopped", "running"]})
    assert bench.shows("p/shine", engine="running") == "full"
    assert bench.shows("p/shine", engine="stopped") == "off"


def test_two_loads_of_one_name_at_one_place_are_kept_apart() -> None:
    bench = Bench(PARTS, {"p": "split"}, ["feed:live > p:in", "p:E > earth"], LIVE)
    assert sorted(does for _, does in bench.view.net.loads) == ["shine", "shine (2)"]
    assert bench.amps("p/shine", {}) == bench.amps("p/shine (2)", {}) == pytest.approx(5 / 12)
