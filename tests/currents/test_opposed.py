"""Sources tied together: what flows from one through another, and what of it a plan answers for."""

import pytest
from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents.checks import opposed
from planner.currents.inspect import by_identity, faults
from planner.currents.inspect import strains as all_strains
from planner.currents.report import strain_words
from planner.model.strain import DANGEROUS, Strain

PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    battery-6:
      volts: 6
      terminals: {+: "30", -: "31"}
      inside: [{source: {between: [+, -], volts: 6}}]
    turned: {terminals: {+: "31", -: "30"}, inside: [{source: {between: [-, +], volts: 12}}]}
    turned-6:
      volts: 6
      terminals: {+: "31", -: "30"}
      inside: [{source: {between: [-, +], volts: 6}}]
    dynamo:
      terminals: {D: "30", E: "31"}
      inside: [{source: {between: [D, E], volts: 12, when: {engine: running}}}]
    lamp: {terminals: {a: "", b: ""}, inside: [{lamp: {between: [a, b], watts: 21, does: shine}}]}
    switch:
      terminals: {a: "", b: "", c: "", d: ""}
      inside:
        - control: {name: knob, positions: ["off", "on"]}
        - contact: {join: [a, b], when: {knob: "on"}}
        - contact: {join: [c, d], when: {knob: "on"}}
    """
)
THICK = {"colour": "BK", "mm2": 120, "metres": 0.3}
# Between +: and +:, then between -: and -: of two batteries, as thick as they come.
STRAPS = {"wires": [{"wire": f"W{m}", "ends": [f"x:{m}", f"y:{m}"], **THICK} for m in ("+", "-")]}


def bench(x: str, y: str, earthed: str = "negative") -> Bench:
    return Bench(PARTS, {"x": x, "y": y}, [], more=STRAPS, earthed=earthed)


def taken(some: Bench) -> dict[str, Strain]:
    return {strain.at: strain for strain in opposed.strains(inspected(some))}


@pytest.mark.parametrize(
    ("x", "y", "earthed", "at"),
    [("battery", "battery-6", "negative", "y:+"), ("turned", "turned-6", "positive", "y:-")],
)
def test_a_battery_tied_to_one_of_more_volts_takes_what_their_resistances_let(
    x: str, y: str, earthed: str, at: str
) -> None:
    """6.35 V over 12 and 6 mohm inside, and four crimps and 0.6 m of 120 mm2 between: 4.1 mohm."""
    (strain,) = taken(bench(x, y, earthed)).values()
    assert strain.at == at and strain.is_over
    assert strain.value == pytest.approx(6.35 / 0.0221, rel=0.01)


def test_such_a_loom_is_dangerous_and_laid_to_the_work_even_where_no_wire_is_strained() -> None:
    seen = inspected(bench("battery", "battery-6"))
    found = [strain for strain in all_strains(seen) if strain.is_over and strain.kind in DANGEROUS]
    assert [strain.kind for strain in found] == ["opposed"]
    before = all_strains(inspected(Bench(PARTS, {"x": "battery"}, [])))
    assert "opposed" in [fault.what for fault in faults(all_strains(seen), by_identity(before))]
    assert "takes 287.4 A from a source of more volts" in strain_words(found[0], seen.loom)


def test_like_batteries_side_by_side_do_not_oppose() -> None:
    assert taken(bench("battery", "battery")) == {}


def test_batteries_of_unequal_volts_are_told_while_what_flows_is_little() -> None:
    """Over a metre of 1 mm2 from a feed of 12.7 V: a battery measured at 12.5 V takes some amps."""
    parts = {**PARTS, **make_parts(
        """
        tired: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12, open_v: 12.5}}]}
        """
    )}  # fmt: skip
    tied = Bench(parts, {"y": "tired"}, ["feed:p > y:+", "y:- > earth:z"], {"p": {"role": "30"}})
    (strain,) = taken(tied).values()
    assert strain.at == "y:+" and 1.0 < strain.value < 4.0 and not strain.is_over


def test_a_feed_against_a_battery_of_other_volts_is_told_at_whichever_takes() -> None:
    feeds = {"p": {"role": "30"}}
    tied = Bench(PARTS, {"y": "battery-6"}, ["feed:p > y:+", "y:- > earth:z"], feeds)
    assert taken(tied)["y:+"].is_over
    assert taken(tied.changed(volts=4.0))["feed:p"].is_over


def test_two_feeds_tied_carry_nothing_between_them() -> None:
    feeds = {"p": {"role": "30"}, "q": {"role": "30"}}
    tied = Bench(PARTS, {"l": "lamp"}, ["feed:p > feed:q", "feed:q > l:a", "l:b > earth:z"], feeds)
    assert taken(tied) == {}
    assert ("tie", "feed:p", "feed:q") in tied.view.events


def test_a_generator_that_charges_is_what_it_is_for() -> None:
    engine = {"engine": ["still", "running"]}
    wires = ["g:D > x:+", "g:E > x:-", "x:+ > l:a", "l:b > x:-"]
    charging = Bench(PARTS, {"x": "battery", "g": "dynamo", "l": "lamp"}, wires, conditions=engine)
    seen = inspected(charging)
    assert any(sample.is_generating for sample in seen.survey.samples)
    assert taken(charging) == {}


def test_sources_that_a_switch_ties_are_told_with_its_position() -> None:
    """The lamp is why the position is solved; that the batteries are tied there, no load tells."""
    wires = ["x:+ > s:a", "s:b > y:+", "x:- > earth:z", "y:- > earth:z"]
    wires += ["x:+ > s:c", "s:d > l:a", "l:b > earth:z"]
    places = {"x": "battery", "y": "battery-6", "s": "switch", "l": "lamp"}
    strain = taken(Bench(PARTS, places, wires))["y:+"]
    assert strain.is_over and strain.position == {"s/knob": "on"}


ISOLATED = ["x:+ > s:a", "s:b > y:+", "x:- > earth:z", "y:- > earth:z"]


def test_batteries_that_a_switch_ties_are_told_though_no_load_depends_on_it() -> None:
    found = taken(Bench(PARTS, {"x": "battery", "y": "battery-6", "s": "switch"}, ISOLATED))["y:+"]
    assert found.is_over and found.position == {"s/knob": "on"}


def test_a_battery_the_wrong_way_round_is_a_short_of_the_first_view() -> None:
    wires = ["x:+ > s:a", "s:b > y:-", "x:- > earth:z", "y:+ > earth:z"]
    turned = Bench(PARTS, {"x": "battery", "y": "battery", "s": "switch"}, wires)
    assert any(event[0] == "short" for event in turned.view.events)


def test_like_batteries_that_a_switch_ties_are_solved_there_and_told_nothing() -> None:
    places = {"x": "battery", "s": "switch", "l": "lamp", "y": "battery"}
    some = Bench(PARTS, places, [*ISOLATED, "x:+ > l:a", "l:b > x:-"])
    seen = inspected(some)
    assert {"s/knob": "on"} in [sample.told for sample in seen.survey.samples]
    assert taken(some) == {}


def test_a_feed_that_a_switch_ties_to_a_battery_of_other_volts_is_told() -> None:
    wires = ["feed:p > s:a", "s:b > y:+", "y:- > earth:z"]
    tied = Bench(PARTS, {"y": "battery-6", "s": "switch"}, wires, {"p": {"role": "30"}})
    assert taken(tied)["y:+"].is_over


@pytest.mark.parametrize("wires", [["x:+ > y:-", "y:+ > x:-"], ["x:+ > y:-", "y:+ > x:-", "x:- > earth:z"]])
def test_a_ring_of_batteries_shorts_itself_through_its_wires(wires: list[str]) -> None:
    """25.4 V over twice 12 mohm and two wires of 20.5 mohm: each gives, none takes."""
    ring = Bench(PARTS, {"x": "battery", "y": "battery"}, wires)
    found = {(s.kind, s.at): s for s in all_strains(inspected(ring))}
    assert found["wire", "W1"].value == pytest.approx(25.4 / 0.065, rel=0.01)
    assert ("opposed", "x:+") not in found and ("opposed", "y:+") not in found
    assert any(event[0] == "short" for event in ring.view.events)
