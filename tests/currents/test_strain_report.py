"""The volts of every load in words and numbers: which loads, where least, and how they look there."""

from typing import get_args

import pytest
from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents.inspect import strains
from planner.currents.report import _TEXTS, APPEARANCE, dead_test_lines, drain_remarks, load_lines
from planner.model.plan import LoadLine
from planner.model.strain import StrainKind

PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    generator:
      terminals: {D: "", E: ""}
      inside: [{source: {between: [D, E], volts: 12, when: {engine: running}}}]
    lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 48, does: shine}}]}
    lamp-6: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 18, volts: 6, does: shine}}]}
    lamp-24:
      terminals: {a: "", b: ""}
      inside: [{lamp: {between: [a, b], watts: 24, volts: 24, does: shine}}]
    led: {terminals: {a: "", b: ""}, inside: [{led: {between: [a, b], watts: 6, does: shine}}]}
    heater: {terminals: {a: "", b: ""}, inside: [{resistor: {between: [a, b], ohms: 0.5, does: warm}}]}
    dropper: {terminals: {a: "", b: ""}, inside: [{resistor: {between: [a, b], ohms: 1}}]}
    coil:
      terminals: {a: "", b: ""}
      inside: [{coil: {between: [a, b], ohms: 80, pulls_in_v: 7, drops_out_v: 3, name: armature}}]
    gauge:
      terminals: {a: "", b: ""}
      inside: [{gauge: {between: [a, b], ohms: 120, full_scale_amps: 0.2, does: show}}]
    stored: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12, amp_hours: 40}}]}
    clock: {terminals: {a: "", b: ""}, inside: [{resistor: {between: [a, b], ohms: 1270}}]}
    fuse: {terminals: {a: "", b: ""}, inside: [{fuse: {between: [a, b], amps: 8}}]}
    switch:
      terminals: {a: "", b: ""}
      inside:
        - control: {name: knob, positions: ["off", "on"]}
        - contact: {join: [a, b], when: {knob: "on"}}
    """
)
ENGINE = {"engine": ["still", "running"]}


def test_every_kind_of_strain_has_its_words() -> None:
    assert set(_TEXTS) == set(get_args(StrainKind))


def bench(*parts: str) -> Bench:
    """A battery with each part on a switch of its own."""
    places = {"bat": "battery"}
    wires = ["bat:- > earth:z"]
    for n, part in enumerate(parts, 1):
        places |= {f"s{n}": "switch", f"p{n}": part}
        wires += [f"bat:+ > s{n}:a", f"s{n}:b > p{n}:a", f"p{n}:b > earth:z"]
    return Bench(PARTS, places, wires)


def lines(after: Bench, before: Bench | None = None) -> dict[str, LoadLine]:
    found = load_lines(inspected(after), inspected(before or after), str)
    return {line.at: line for line in found}


def test_a_wire_brings_a_terminal_no_more_than_stays_there() -> None:
    """Half of what comes to the first lamp goes on to the second from the same terminal."""
    wires = ["bat:- > earth:z", "come = bat:+ > p1:a", "on = p1:a > p2:a", "p1:b > earth:z", "p2:b > earth:z"]
    chain = Bench(PARTS, {"bat": "battery", "p1": "lamp", "p2": "lamp"}, wires)
    (tab,) = [strain for strain in strains(inspected(chain)) if (strain.kind, strain.at) == ("tab", "p1:a")]
    assert tab.most_in is not None and (tab.most_in.wire, tab.most_in.leg) == ("come", 0)
    assert tab.most_in.amps == pytest.approx(tab.value) == pytest.approx(4, rel=0.1)


def test_only_what_somebody_looks_at_is_listed() -> None:
    found = lines(bench("lamp", "dropper", "coil", "heater"))
    assert [(line.at, line.what) for line in found.values()] == [("p1", "shine"), ("p4", "warm")]


@pytest.mark.parametrize(
    ("part", "looks"),
    [("lamp", "full"), ("lamp-6", "over"), ("lamp-24", "dim"), ("led", "full"), ("gauge", "reads 50 %")],
)
def test_a_load_looks_as_its_real_power_or_current_says(part: str, looks: str) -> None:
    """A lamp of 24 V at half its volts takes 0.5 ** 1.55 = 34 % of its power."""
    assert lines(bench(part))["p1"].looks == looks


def test_the_least_volts_are_where_another_load_drags_them_down() -> None:
    found = lines(bench("lamp", "heater"))["p1"]
    assert found.least_when == str({"s1/knob": "on", "s2/knob": "on"})
    assert found.least_volts < found.most_volts - 0.2 and found.most_volts < 12.7
    assert (found.title, found.rated_volts) == ("p1", 12.0)


def test_a_lamp_that_another_now_drags_down_has_more_volts_before() -> None:
    one, two = bench("lamp"), bench("lamp", "heater")
    found = lines(two, one)
    assert found["p1"].before_least_volts == lines(one)["p1"].least_volts
    assert found["p1"].before_least_volts > found["p1"].least_volts + 0.2
    assert found["p2"].before_least_volts is None


def test_the_most_volts_are_with_the_generator_at_work() -> None:
    one = bench("lamp")
    wires = [*one.wires, "gen:D > bat:+", "gen:E > earth:z"]
    found = lines(one.changed(places={**one.places, "gen": "generator"}, wires=wires, conditions=ENGINE))
    assert found["p1"].least_volts == pytest.approx(lines(one)["p1"].least_volts)
    assert found["p1"].least_volts + 0.3 < found["p1"].most_volts < 14.2


def test_a_load_that_never_rests_is_least_with_everything_at_rest() -> None:
    direct = Bench(
        PARTS, {"bat": "battery", "p": "lamp"}, ["bat:+ > p:a", "p:b > earth:z", "bat:- > earth:z"]
    )
    assert lines(direct)["p"].least_when == "with everything at rest"


def test_the_limits_of_appearance_are_said_with_their_basis() -> None:
    assert "2 %" in APPEARANCE and "70 %" in APPEARANCE and "common practice, no source" in APPEARANCE


def test_behind_a_fuse_a_meter_reads_the_cold_lamp_and_nothing_once_it_is_out() -> None:
    """12 V and 48 W are 3 ohm alight and a thirteenth of that cold; wires and earths come on top."""
    places = {"bat": "battery", "f": "fuse", "p": "lamp"}
    wires = ["bat:- > earth:z", "bat:+ > f:a", "f:b > p:a", "p:b > earth:z"]
    (line,) = dead_test_lines(inspected(Bench(PARTS, places, wires)))
    assert line.at == "f:b" and 3 / 13 < line.ohms < 3 / 13 + 0.1
    assert line.ohms_lamps_out == float("inf")


def at_rest(battery: str, *clocks: str) -> Bench:
    wires = ["bat:- > earth:z", *(f"bat:+ > {c}:a" for c in clocks), *(f"{c}:b > earth:z" for c in clocks)]
    return Bench(PARTS, {"bat": battery, **dict.fromkeys(clocks, "clock")}, wires)


@pytest.mark.parametrize(
    ("before", "after", "battery", "words"),
    [
        (
            (),
            ("c",),
            "stored",
            ["gives 10 mA (nothing before); half of 40 Ah is gone in 83 days; up to 50 mA"],
        ),
        (("c",), ("c", "d"), "battery", ["gives 20 mA (10 mA before); up to 50 mA is usual"]),
        (("c",), ("c",), "battery", []),
        (("c",), (), "battery", []),
        ((), ("c", "d", "e", "f", "g", "h"), "battery", []),  # too much: a strain and a danger, told as such
    ],
)
def test_a_new_drain_within_the_limit_is_remarked_on(
    before: tuple[str, ...], after: tuple[str, ...], battery: str, words: list[str]
) -> None:
    old, new = at_rest(battery, *before), at_rest(battery, *after)
    found = list(drain_remarks(strains(inspected(new)), strains(inspected(old)), new.loom))
    assert [any(word in line.text for line in found) for word in words] == [True] * len(words)
    assert len(found) == len(words)
