"""What a wire carries where it runs, and which bundle a new one is laid in."""

from typing import Any

import pytest
from generated_looms import catalogue

from planner.engine.sizing import SIZES
from planner.model.loom import Loom
from planner.model.surroundings import (
    Surroundings,
    bundle_between,
    carries_for_good,
    leg_surroundings,
)

WORDS = ("rubber", "pvc", "cross-linked", "silicone")
TABLES = catalogue().standards


def wire(name: str, *ends: str, **more: Any) -> dict[str, Any]:
    return {"wire": name, "colour": "BK", "mm2": 1, "metres": 1, "ends": ends, **more}


def loom(*wires: dict[str, Any], **more: Any) -> Loom:
    places = {zone: {"part": "p", "zone": zone} for zone in ("bay", "dash", "tail")}
    zones = {"bay": {"hot": True}, "dash": {}, "tail": {}}
    supply = {"volts": 12, "earthed": "negative"}
    return Loom.model_validate(
        {"loom": "tiny", "supply": supply, "zones": zones, "places": places, "wires": wires, **more}
    )


def amps(insulation: Any, mm2: float, celsius: float = 30.0, loaded: int = 1) -> float:
    return carries_for_good(TABLES, mm2, Surroundings(celsius, insulation, loaded)).value


class TestWhatAWireCarries:
    @pytest.mark.parametrize("mm2", SIZES)
    @pytest.mark.parametrize("celsius", [30.0, 50.0])
    def test_better_insulation_carries_no_less(self, mm2: float, celsius: float) -> None:
        carried = [amps(word, mm2, celsius) for word in WORDS]
        assert carried == sorted(carried) and carried[0] < carried[-1]

    def test_what_it_is_taken_for_is_said_with_its_basis(self) -> None:
        found = carries_for_good(TABLES, 2.5, Surroundings(30.0, "rubber", 3))
        assert "times 0.7 for 3 loaded cables in one bundle" in found.source
        assert "rubber stands 60 °C (natural rubber" in found.source
        assert found.is_from_memory

    def test_pvc_is_what_the_handbook_lists_and_needs_no_word(self) -> None:
        assert carries_for_good(TABLES, 2.5, Surroundings(30.0)) == TABLES.wire_amps(2.5)

    def test_a_leg_is_judged_by_its_warmer_zone_and_the_cable_by_its_own_word_before_the_looms(self) -> None:
        own = wire("A", "bay:x", "dash:x", "tail:x", insulation="silicone")
        some = loom(own, wire("B", "dash:x", "tail:x"), insulation="rubber")
        a, b = some.wires
        assert leg_surroundings(some, a, 0) == Surroundings(50.0, "silicone", 1)
        assert leg_surroundings(some, a, 1, 4) == Surroundings(30.0, "silicone", 4)
        assert leg_surroundings(some, b, 0) == Surroundings(30.0, "rubber", 1)

    def test_a_loom_that_says_nothing_has_pvc(self) -> None:
        some = loom(wire("A", "dash:x", "tail:x"))
        assert leg_surroundings(some, some.wires[0], 0).insulation == "pvc"


class TestANewWiresBundle:
    some = loom(
        wire("A", "bay:x", "dash:x", "tail:x", bundle="left"),
        wire("B", "bay:x", "dash:x", bundle="left"),
        wire("C", "tail:x", "dash:x", bundle="sill"),
        wire("D", "tail:x", "dash:x", bundle="sill"),
        wire("E", "tail:x", "dash:x", bundle="sill"),
        wire("F", "tail:y", "bay:x"),
    )

    def test_it_is_the_largest_that_joins_the_same_two_zones(self) -> None:
        assert bundle_between(self.some, "dash:y", "bay:y") == "left"
        assert bundle_between(self.some, "dash:y", "earth:tail") == "sill"

    def test_a_lead_within_a_zone_lies_apart(self) -> None:
        assert bundle_between(self.some, "dash:y", "dash:z") is None

    def test_where_no_bundle_runs_from_one_zone_to_the_other_it_lies_apart(self) -> None:
        assert bundle_between(self.some, "bay:y", "tail:y") is None

    def test_an_end_whose_zone_is_not_known_is_in_no_bundle(self) -> None:
        assert bundle_between(self.some, "bay:y", "earth") is None
