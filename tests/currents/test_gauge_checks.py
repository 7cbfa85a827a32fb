"""Gauges and stabilisers: readings against the face, volts against what the gauge is made for."""

import pytest
from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents.checks import gauges
from planner.model.strain import Strain

PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    gauge:
      terminals: {I: "15", F: ""}
      inside:
        - gauge:
            between: [I, F]
            ohms: 60
            full_scale_amps: 0.15
            does: fuel gauge
            marks: {empty: 0.33, full: 1}
    unmarked:
      terminals: {I: "15", F: ""}
      inside: [{gauge: {between: [I, F], ohms: 60, full_scale_amps: 0.15, does: fuel gauge}}]
    gauge-10:
      terminals: {I: "15", F: ""}
      inside:
        - gauge:
            between: [I, F]
            ohms: 60
            volts: 10
            full_scale_amps: 0.125
            does: fuel gauge
            marks: {empty: 0.33, full: 1}
    stabiliser:
      terminals: {B: {role: "15", holds: 2}, I: "", case: mounting}
      inside: [{stabiliser: {between: [B, I], earth: case, volts: 10}}]
    sender:
      terminals: {S: "", case: mounting}
      inside: [{sender: {between: [S, case], follows: fuel, ohms: {full: 20, empty: 180}}}]
    sender-240:
      terminals: {S: "", case: mounting}
      inside: [{sender: {between: [S, case], follows: fuel, ohms: {full: 33, empty: 240}}}]
    """
)
FUEL = {"fuel": ["full", "empty"]}
PLAIN = ["bat:+ > g:I", "bat:- > earth", "g:F > s:S"]
HELD = ["bat:+ > st:B", "st:I > g:I", "bat:- > earth", "g:F > s:S"]


def strains(
    gauge: str, wires: list[str], sender: str = "sender", mounting: str = "metal"
) -> dict[str, Strain]:
    places = {"bat": "battery", "g": gauge, "s": sender}
    if wires is HELD:
        places["st"] = f"stabiliser!{mounting}"
    found = list(gauges.strains(inspected(Bench(PARTS, places, wires, conditions=FUEL))))
    assert len({s.kind for s in found}) == len(found)
    return {s.kind: s for s in found}


def test_a_gauge_with_a_sender_of_its_range_is_within_a_tenth() -> None:
    """12.7 V instead of 12 V is all that it is off: 5.8 % of the scale at full."""
    found = strains("gauge", PLAIN)
    assert found["gauge"].value == pytest.approx(12.7 / 80 / 0.15 - 1, abs=0.002)
    assert not found["gauge"].is_over


def test_a_sender_of_another_range_is_said_with_every_reading() -> None:
    found = strains("gauge", PLAIN, "sender-240")
    assert not found["gauge"].is_over  # the two ranges lie close together
    assert found["gauge"].note == "fuel gauge: empty 28%, should be 33%; full 91%, should be 100%"


def test_a_gauge_for_10_volts_on_12_is_over_its_volts_and_reads_too_high() -> None:
    found = strains("gauge-10", PLAIN)
    assert found["over-voltage"].is_over
    assert found["over-voltage"].value == pytest.approx(12.7, abs=0.02)
    assert found["over-voltage"].limit == pytest.approx(11)
    assert found["gauge"].value == pytest.approx(12.7 / 80 / 0.125 - 1, abs=0.003)


def test_behind_a_stabiliser_it_gets_its_10_volts_and_reads_right() -> None:
    found = strains("gauge-10", HELD)
    assert found["over-voltage"].value == pytest.approx(10, abs=0.1)
    assert not found["over-voltage"].is_over
    assert found["gauge"].value < 0.02


def test_a_stabiliser_without_its_earth_holds_nothing() -> None:
    found = strains("gauge-10", HELD, mounting="insulated")
    assert found["over-voltage"].is_over
    assert found["over-voltage"].value == pytest.approx(12.7 - 4 * 12.7 / 244, abs=0.4)


def test_a_gauge_made_for_the_full_volts_is_not_held_against_them() -> None:
    """What a generator gives is more than 12 V all day, and no gauge for 12 V dies of it."""
    assert "over-voltage" not in strains("gauge", PLAIN)


def test_a_face_without_marks_is_not_judged() -> None:
    assert "gauge" not in strains("unmarked", PLAIN)


@pytest.mark.parametrize("earthed", ["negative", "positive"])
def test_a_stabiliser_holds_its_volts_on_either_polarity(earthed: str) -> None:
    live, back = ("bat:+", "bat:-") if earthed == "negative" else ("bat:-", "bat:+")
    parts = {**PARTS}
    if earthed == "positive":
        parts |= make_parts(
            'battery: {terminals: {+: "31", -: "30"}, inside: [{source: {between: [-, +], volts: 12}}]}'
        )
    bench = Bench(
        parts,
        {"bat": "battery", "g": "gauge-10", "s": "sender", "st": "stabiliser"},
        [f"{live} > st:B", "st:I > g:I", f"{back} > earth", "g:F > s:S"],
        conditions=FUEL,
        earthed=earthed,
    )
    found = {s.kind: s for s in gauges.strains(inspected(bench))}
    assert found["over-voltage"].value == pytest.approx(10, abs=0.1)
