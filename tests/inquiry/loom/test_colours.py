"""A colour is told where it surely contradicts what the wire is, and nowhere else."""

import pytest
from tiny_loom import PLACES, texts


def _wires(*colours: str) -> dict[str, object]:
    ends = [
        ["feed:in", "fuse:in"],
        ["fuse:out", "switch:in"],
        ["switch:out", "lamp:L"],
        ["lamp:case", "earth:z"],
    ]
    return {
        "wires": [
            {"wire": f"W{n}", "colour": colour, "mm2": 1, "metres": 1, "ends": end}
            for n, (colour, end) in enumerate(zip(colours, ends, strict=True), 1)
        ]
    }


def _told(*colours: str, **scheme: str) -> list[str]:
    return texts("colour", places=PLACES, wires=[], more={**_wires(*colours), "scheme": scheme})


def test_a_live_wire_in_the_colour_of_earth_is_told_by_the_scheme():
    assert _told("RD", "RD", "BK", "BK", **{"31": "BK", "30": "RD"}) == [
        "black (W3) is the colour of 31 (31); the wire is live with the switch on"
    ]


def test_an_earth_wire_in_the_colour_of_a_feed_is_told_by_the_scheme():
    assert _told("RD", "RD", "GN", "RD", **{"31": "BK", "30": "RD"}) == [
        "red (W4) is the colour of 30 (30); the wire is earth"
    ]


@pytest.mark.parametrize("role", ["15", "49a", "56"])
def test_no_role_on_the_live_side_may_be_earth(role):
    assert len(_told("RD", "RD", "RD", "GN", **{role: "GN"})) == 1


def test_a_tracer_makes_another_colour():
    assert _told("RD", "RD", "BK/RD", "BK", **{"31": "BK"}) == []


def test_a_colour_that_one_of_its_roles_explains_is_not_told():
    assert _told("RD", "RD", "BK", "BK", **{"31": "BK", "56": "BK"}) == []


def test_a_role_between_the_poles_rules_out_nothing():
    assert _told("RD", "RD", "GN", "GN", **{"return": "GN"}) == []


def test_without_a_scheme_a_colour_is_told_only_if_it_is_used_for_both_poles():
    assert _told("RD", "RD", "GN", "BK") == []
    assert _told("BK", "RD", "GN", "BK") == ["black is live on W1 and earth on W4"]


def test_of_many_wires_of_a_colour_the_first_are_named():
    wires = [
        {"wire": f"W{n}", "colour": "BK", "mm2": 1, "metres": 1, "ends": ["feed:in", f"joint:{n}"]}
        for n in range(6)
    ]
    earth = {"wire": "E", "colour": "BK", "mm2": 1, "metres": 1, "ends": ["lamp:case", "earth:z"]}
    assert texts("colour", wires=[], more={"wires": [*wires, earth]}) == [
        "black is live on W0, W1, W2, W3 and 2 more and earth on E"
    ]
