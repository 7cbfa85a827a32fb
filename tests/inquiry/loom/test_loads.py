"""Each load is told with when it works, from where it is fed, through what, and how it is earthed."""

import pytest
from tiny_loom import PARTS, PLACES, WIRES, explained

from planner.inquiry.loom import loads
from planner.inquiry.loom.explain import explain
from planner.pipeline import open_catalogue
from planner.reading.catalogue import read_loom


def test_a_load_is_told_with_its_fuse_its_switch_its_wires_and_its_earth():
    (line,) = explained().loads
    (way,) = line.ways
    assert (line.what, line.title, line.works) == ("shine", "lamp", (("full", "with the switch on"),))
    assert way.source == "the feed in (always live)"
    assert way.fuses == ("the fuse at 'out' on the fuse (8 A)",)
    assert way.through == ("the switch ('in' to 'out')",)
    assert way.wires == ("black (W1, W2, W3)",)
    assert way.earth == "by its own mounting"
    assert way.when == ""


def test_the_fuse_and_the_nature_of_a_feed_at_the_edge_are_told():
    feeds = {"in": {"role": "15", "when": {"ignition": "on"}, "fuse_amps": 10}}
    (line,) = explained(feeds=feeds, conditions={"ignition": ["off", "on"]}).loads
    assert line.ways[0].source == "the feed in (live with the ignition, fuse 10 A)"
    assert line.works == (("full", "with the switch on while ignition is on"),)


def test_two_ways_are_told_each_with_when():
    places = {**PLACES, "other": "switch"}
    wires = [*WIRES, "W4 = feed:spare > other:in", "W5 = other:out > lamp:L"]
    feeds = {"in": {"role": "30"}, "spare": {"role": "30"}}
    (line,) = explained(places=places, wires=wires, feeds=feeds).loads
    told = {way.source: way.when for way in line.ways}
    assert set(told) == {"the feed in (always live)", "the feed spare (always live)"}
    assert told["the feed spare (always live)"].startswith("with ")


def test_a_switched_earth_is_told_on_the_earth_side():
    places = {"lamp": "two-wire-lamp", "push": "push"}
    (line,) = explained(places=places, wires=["W1 = feed:in > lamp:L", "W2 = lamp:E > push:P"]).loads
    (way,) = line.ways
    assert (way.through, way.earth) == ((), "by black (W2), through the push, to the mounting of the push")


def test_a_load_in_series_is_told_on_the_way_and_the_shortest_way_is_not_through_the_body():
    places = {"one": "two-wire-lamp", "two": "lamp"}
    one, two = explained(places=places, wires=["feed:in > one:L", "one:E > two:L"]).loads
    assert one.ways[0].earth == "by black (W2), through the shine of the two, to the mounting of the two"
    assert two.ways[0].through == ("the shine of the one (L to E)",)
    assert dict(one.works) == {"dim": "always"}


def test_colours_are_told_leg_by_leg():
    legs = [
        {
            "wire": "W1",
            "colour": ["RD", "BU/WH"],
            "mm2": 1,
            "metres": 1,
            "ends": ["feed:in", "joint:j", "lamp:L"],
        }
    ]
    (line,) = explained(places={"lamp": "lamp"}, wires=[], more={"wires": legs}).loads
    assert line.ways[0].wires == ("red (W1)", "blue/white (W1)")


def test_a_load_that_never_works_has_no_way():
    (line,) = explained(wires=WIRES[1:]).loads
    assert (line.works, line.ways) == ((), ())


def test_where_ways_are_many_those_of_the_first_positions_are_told(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(loads, "MOST_SETTINGS", 0)
    (line,) = explained().loads
    assert (line.works, line.ways) == ((("full", "with the switch on"),), ())


def test_parts_of_the_tiny_loom_are_what_the_tests_say_they_are():
    assert PARTS["push"].terminals["case"].by == "mounting"


def test_an_instrument_that_reads_what_others_take_is_told_in_one_line():
    lamps = {f"lamp{number}": "lamp" for number in range(7)}
    places = {"box": "ammeter", **lamps, **{f"switch{number}": "switch" for number in range(7)}}
    wires = ["feed:in > box:1"]
    for number in range(7):
        wires += [f"box:2 > switch{number}:in", f"switch{number}:out > lamp{number}:L"]
    lines = explained(places=places, wires=wires).loads
    (ammeter,) = [line for line in lines if line.what == "ammeter"]
    ((look, when),) = ammeter.works
    assert look.startswith("reads ") and when == "by what is on behind it"
    assert len(ammeter.ways) == 1 and ammeter.ways[0].when == ""


def test_what_a_gauge_reads_is_told_with_what_stands_on_its_face() -> None:
    catalogue = open_catalogue()
    found = explain(read_loom("skarrow-8-instruments", catalogue), catalogue)
    (gauge,) = (line for line in found.loads if line.what == "fuel gauge")
    said = {look: when.rpartition("fuel is at ")[2] for look, when in gauge.works}
    assert said["reads 100 % (full on its face)"] == "full"
    assert said["reads 30 % (empty on its face)"] == "empty"


def test_of_a_gauge_without_marks_the_share_is_told_alone() -> None:
    catalogue = open_catalogue()
    found = explain(read_loom("skarrow-8", catalogue), catalogue)
    (gauge,) = (line for line in found.loads if line.what == "fuel gauge")
    assert {look for look, _ in gauge.works} >= {"reads 100 %", "reads 30 %"}
