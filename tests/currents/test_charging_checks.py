"""Generators: whether their current arrives, and what the wires on its way have to stand."""

from inspected import inspected
from small_looms import Bench, make_parts

from planner.currents.checks import charging
from planner.model.strain import Strain

PARTS = make_parts(
    """
    battery:
      terminals: {+: {role: "30", holds: 3}, -: "31"}
      inside: [{source: {between: [+, -], volts: 12}}]
    alternator:
      terminals: {B: {role: "30", holds: 2}, case: mounting}
      inside: [{source: {between: [B, case], volts: 12, most_amps: 45, when: {engine: running}}}]
    magneto:
      terminals: {"2": "2", case: mounting}
      nodes: [primary]
      inside:
        - source: {between: [primary, case], volts: 6, when: {engine: running}}
        - resistor: {between: [primary, "2"], ohms: 30}
    lamp:
      terminals: {a: "", case: mounting}
      inside: [{lamp: {between: [a, case], watts: 21, does: stop lamp}}]
    """
)
PLACES = {"bat": "battery", "alt": "alternator", "lamp": "lamp"}
ENGINE = {"engine": ["stopped", "running"]}
CONNECTED = ["main = bat:+ > alt:B", "earth = bat:- > earth", "stop = bat:+ > lamp:a"]


def strains(wires: list[str], places: dict[str, str] = PLACES) -> dict[tuple[str, str], Strain]:
    found = list(charging.strains(inspected(Bench(PARTS, places, wires, conditions=ENGINE))))
    return {(s.kind, s.at): s for s in found}


def test_the_wire_to_the_battery_has_to_stand_the_whole_output() -> None:
    strain = strains(CONNECTED)["wire", "main"]
    assert strain.value == 45 and strain.is_over  # 1 mm2 stands less than half of it
    assert strain.position == {"engine": "running"}


def test_the_wire_to_a_load_has_not() -> None:
    assert ("wire", "stop") not in strains(CONNECTED)


def test_the_wire_to_a_load_has_not_though_it_takes_nearly_all_that_is_given() -> None:
    """A heater leaves the battery a tenth of 19 A; what a flat one takes goes another way."""
    heater = make_parts(
        """
        heater:
          terminals: {a: "", case: mounting}
          inside: [{resistor: {between: [a, case], ohms: 0.7, does: warm}}]
        """
    )
    wires = [*CONNECTED[:2], "heat = bat:+ > lamp:a"]
    bench = Bench(PARTS | heater, {**PLACES, "lamp": "heater"}, wires, conditions=ENGINE)
    assert {s.at for s in charging.strains(inspected(bench)) if s.kind == "wire"} == {"main"}


def test_behind_an_open_isolator_the_wire_to_a_load_carries_what_that_load_takes() -> None:
    """With the battery cut off the one lamp that is on takes all that the alternator gives, and no more."""
    parts = PARTS | make_parts(
        """
        isolator:
          terminals: {in: "", out: ""}
          inside:
            - control: {name: isolator, positions: ["off", "on"]}
            - contact: {join: [in, out], when: {isolator: "on"}}
        """
    )
    wires = ["bat:- > earth", "live = bat:+ > off:in", "main = off:out > alt:B", "stop = alt:B > lamp:a"]
    bench = Bench(parts, {**PLACES, "off": "isolator"}, wires, conditions=ENGINE)
    found = {(s.kind, s.at): s for s in charging.strains(inspected(bench))}
    assert ("not-charging", "alt") in found and ("wire", "stop") not in found


def test_two_wires_side_by_side_share_the_output() -> None:
    found = strains([*CONNECTED, "second = bat:+ > alt:B"])
    assert not {("wire", "main"), ("wire", "second")} & set(found)


def test_a_generator_on_the_battery_charges() -> None:
    assert not strains(CONNECTED)["not-charging", "alt"].is_over


def test_a_generator_that_reaches_nothing_is_said_to_charge_nothing() -> None:
    found = strains(["bat:- > earth", "bat:+ > lamp:a"])
    assert found["not-charging", "alt"].is_over
    assert [key for key in found if key[0] == "wire"] == []


def test_a_magneto_that_is_there_for_its_spark_is_not_asked() -> None:
    places = {"bat": "battery", "mag": "magneto", "lamp": "lamp"}
    assert ("not-charging", "mag") not in strains(
        ["bat:- > earth", "bat:+ > lamp:a", "mag:2 > loose"], places
    )


def test_without_a_battery_in_the_loom_nothing_is_asked() -> None:
    assert strains(["alt:B > lamp:a"], {"alt": "alternator", "lamp": "lamp"}).keys() <= {("wire", "W1")}
