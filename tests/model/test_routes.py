"""How far it is: routes between zones, joiners, and the length of a new wire."""

from typing import Any

import pytest

from planner.model.loom import Loom
from planner.model.routes import SLACK, WITHIN_ZONE_METRES, route, wire_length, zone_of

ROUTES = [
    {"from": "bay", "to": "dash", "metres": 1.0},
    {"from": "dash", "to": "cab", "metres": 1.0, "behind_trim": True},
    {"from": "cab", "to": "rear", "metres": 2.0},
    {"from": "dash", "to": "sill", "metres": 0.8},
    {"from": "sill", "to": "cab", "metres": 0.9},
    {"from": "bay", "to": "nose", "metres": 0.5},
]
WIRES = [
    {"wire": "A", "colour": "RD", "mm2": 1, "metres": 0.3, "ends": ["p:a", "joint:near-dash"]},
    {"wire": "B", "colour": "RD", "mm2": 1, "metres": 2, "ends": ["joint:near-dash", "q:b"]},
    {"wire": "C", "colour": "RD", "mm2": 1, "metres": [0.2, 0.4],
     "ends": ["joint:in-a-chain", "joint:between", "earth:rear"]},
    {"wire": "D", "colour": "RD", "mm2": 1, "metres": 1, "ends": ["joint:lost", "unknown"]},
]  # fmt: skip


def loom(routes: Any = ROUTES) -> Loom:
    return Loom.model_validate(
        {
            "loom": "tiny",
            "supply": {"volts": 12, "earthed": "negative"},
            "zones": {name: {} for name in ("bay", "dash", "cab", "rear", "sill", "nose", "island")},
            "routes": routes,
            "places": {"p": {"part": "x", "zone": "dash"}, "q": {"part": "x", "zone": "bay"}},
            "wires": WIRES,
        }
    )


class TestRoute:
    def test_within_a_zone_there_is_no_way_to_go(self) -> None:
        assert route(loom(), "dash", "dash") == (0.0, False)

    def test_a_way_can_be_taken_from_either_end(self) -> None:
        assert route(loom(), "bay", "dash") == route(loom(), "dash", "bay") == (1.0, False)

    def test_legs_add_up(self) -> None:
        assert route(loom(), "nose", "dash") == (1.5, False)

    def test_behind_trim_a_metre_is_dearer_so_the_longer_open_way_is_taken(self) -> None:
        """1.0 m behind trim against 0.8 and 0.9 m in the open."""
        metres, behind_trim = route(loom(), "dash", "cab") or (0.0, True)
        assert metres == pytest.approx(1.7) and behind_trim is False

    def test_the_way_behind_trim_is_taken_and_said_where_it_is_the_only_one(self) -> None:
        assert route(loom(ROUTES[:3]), "dash", "rear") == (3.0, True)

    def test_zones_that_no_way_joins_are_told_apart_from_near_ones(self) -> None:
        assert route(loom(), "dash", "island") is None


class TestZone:
    @pytest.mark.parametrize(
        ("address", "zone"),
        [
            ("p:a", "dash"),
            ("earth:rear", "rear"),
            ("earth", None),
            ("unknown", None),
            ("nowhere:a", None),
            ("joint:near-dash", "dash"),  # 0.3 m from the dash, 2 m from the bay
            ("joint:between", "rear"),
            ("joint:in-a-chain", None),  # its only neighbour is another joiner
            ("joint:lost", None),
        ],
    )
    def test_an_end_is_in_the_zone_of_its_place_body_point_or_nearest_neighbour(
        self, address: str, zone: str | None
    ) -> None:
        assert zone_of(loom(), address) == zone


class TestWireLength:
    def test_a_wire_has_slack_and_a_lead_at_its_ends(self) -> None:
        assert wire_length(loom(), "p:a", "p:b") == (round(WITHIN_ZONE_METRES * SLACK, 2), False)
        expected = round((1.0 + WITHIN_ZONE_METRES) * SLACK, 2)
        assert wire_length(loom(), "p:a", "q:b") == wire_length(loom(), "q:b", "p:a") == (expected, False)

    def test_a_way_behind_trim_is_said(self) -> None:
        assert wire_length(loom(ROUTES[:3]), "p:a", "earth:cab")[1] is True

    def test_where_no_way_is_drawn_the_length_is_not_that_of_a_neighbour(self) -> None:
        assert wire_length(loom(), "p:a", "earth:island")[0] > wire_length(loom(), "p:a", "p:b")[0]

    def test_to_an_end_that_nobody_knows_the_length_is_not_that_of_a_neighbour(self) -> None:
        """A feed at the edge of a part of a vehicle may be anywhere; it must not look nearest of all."""
        near = wire_length(loom(), "p:a", "p:b")[0]
        assert wire_length(loom(), "p:a", "feed:battery")[0] > near
        assert wire_length(loom(), "joint:lost", "p:a")[0] > near
