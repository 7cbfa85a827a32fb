"""Flashers: the current that they get against what they need and what they are made for."""

import pytest
from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents.checks import flashers
from planner.model.strain import Strain

PARTS = make_parts(
    """
    battery: {terminals: {+: "30", -: "31"}, inside: [{source: {between: [+, -], volts: 12}}]}
    unit:
      terminals: {B: "49", L: "49a", case: mounting}
      inside:
        - flasher:
            {between: [B, L], kind: electronic, needs_amps: 1.8, most_amps: 3, name: beat, supply: [B, case]}
    lamp:
      terminals: {f: "L", case: mounting}
      inside: [{lamp: {between: [f, case], watts: 21, does: turn lamp, duty: signal}}]
    """
)


def strains(lamps: int, needs_amps: float = 1.8) -> dict[str, Strain]:
    unit = PARTS["unit"].model_dump()
    unit["inside"][0]["needs_amps"] = needs_amps
    parts = {**PARTS, "unit": type(PARTS["unit"]).model_validate(unit)}
    places = {"bat": "battery", "f": "unit"} | {f"l{n}": "lamp" for n in range(lamps)}
    chain = " > ".join(["f:L", *(f"l{n}:f" for n in range(lamps))])
    wires = ["bat:+ > f:B", "bat:- > earth", chain]
    return {s.kind: s for s in flashers.strains(inspected(Bench(parts, places, wires)))}


def test_what_a_lamp_takes_is_held_against_what_the_unit_needs() -> None:
    strain = strains(1, needs_amps=1.7)["flasher-starved"]
    assert strain.value == pytest.approx(1.75 * (12.5 / 12) ** 0.55, rel=0.02) and not strain.is_over


def test_two_lamps_overload_a_unit_for_less() -> None:
    strain = strains(2)["flasher-overloaded"]
    assert strain.is_over and strain.value == pytest.approx(3.5, rel=0.05)
    assert set(strain.loads) == {("l0", "turn lamp"), ("l1", "turn lamp")}


def test_a_unit_that_never_beats_is_left_to_the_circuit() -> None:
    """At rest nothing flows; that its lamps stay dark is what the proof says."""
    assert strains(1, needs_amps=5) == {}
