"""What is odd about a loom is told, and what is in order is not."""

from tiny_loom import PLACES, WIRES, bench, explained, texts

from planner.inquiry.loom.explain import explain


def test_a_sound_loom_has_nothing_odd():
    assert explained().findings == ()


def test_a_load_is_never_fed_if_nothing_is_live_at_it():
    assert texts("never-works", wires=WIRES[1:]) == [
        "shine (lamp) never works: none of its terminals is ever live"
    ]


def test_a_load_without_earth_never_works():
    places = {**PLACES, "lamp": "two-wire-lamp"}
    assert texts("never-works", places=places) == [
        "shine (lamp) never works: none of its terminals ever gets to earth"
    ]


def test_a_load_whose_earth_is_open_when_it_is_fed_never_works():
    places = {"lamp": "two-wire-lamp", "one": "switch"}
    wires = ["feed:in > lamp:L", "lamp:E > one:in", "feed:a > lamp:L"]
    feeds = {"in": {"role": "30", "when": {"key": "on"}}, "a": {"role": "30", "when": {"key": "on"}}}
    line = texts("never-works", places=places, wires=wires, feeds=feeds, conditions={"key": ["off", "on"]})
    assert line == ["shine (lamp) never works: none of its terminals ever gets to earth"]


def test_a_wire_between_dead_terminals_is_told_and_one_to_a_coil_is_not():
    places = {**PLACES, "idle": "switch", "more": "switch"}
    wires = [*WIRES, "W9 = idle:out > more:in"]
    assert texts("never-live", places=places, wires=wires) == [
        "the black wire W9 from 'out' on the idle to 'in' on the more is never live and leads to no load"
    ]


def test_two_feeds_that_a_wire_ties_are_fed_twice():
    feeds = {"in": {"role": "30"}, "spare": {"role": "30"}}
    (line,) = texts("fed-twice", wires=[*WIRES, "W4 = feed:spare > fuse:out"], feeds=feeds)
    assert "are tied together" in line and "the feed spare" in line


def test_two_feeds_that_a_switch_ties_are_fed_twice_only_with_it_on():
    feeds = {"in": {"role": "30"}, "spare": {"role": "30"}}
    (line,) = texts("fed-twice", wires=[*WIRES, "W4 = feed:spare > lamp:L"], feeds=feeds)
    assert line.endswith("with the switch on")


def test_a_short_is_told_with_when():
    assert texts("short-circuit", wires=[*WIRES, "W4 = lamp:L > earth:z"]) == [
        "from the feed in through the black wire W1, the fuse, the black wire W2, the switch, the black wire "
        "W3, the black wire W4 to earth; protected by the fuse of 8 A at 'out' on the fuse with the switch on"
    ]


def test_a_post_of_a_battery_without_a_wire_is_told_first():
    places = {**PLACES, "battery": "battery"}
    (first, *_) = texts("battery-open", places=places, wires=[*WIRES, "W9 = battery:+ > fuse:in"])
    assert first == "the - post of the battery has no wire: nothing gets back to the battery"
    (first, *_) = texts("battery-open", places=places, wires=[*WIRES, "W9 = battery:- > earth:z"])
    assert first == "the + post of the battery has no wire: the battery feeds nothing"


def test_a_terminal_that_needs_something_and_has_nothing_is_told():
    places = {**PLACES, "box": "needy"}
    assert texts("wants-something", places=places) == [
        "a on the box must be live and has no wire",
        "b on the box must be live with the ignition and has no wire",
        "c on the box must be earthed and has no wire",
        "d on the box must be connected and has no wire",
    ]


def test_a_terminal_whose_wire_brings_nothing_is_told_with_what_it_is():
    places = {**PLACES, "box": "needy"}
    wires = [*WIRES, "box:a > earth:z", "box:b > feed:in", "box:c > switch:out", "box:d > lamp:L"]
    assert texts("wants-something", places=places, wires=wires) == [
        "a on the box must be live and has a wire that is earth",
        "c on the box must be earthed and has a wire that is live with the switch on",
    ]


def test_a_covered_terminal_misses_nothing():
    places = {**PLACES, "box": "needy"}
    covered = {"covered": [f"box:{mark}" for mark in "abcd"]}
    assert texts("wants-something", places=places, more=covered) == []


def test_loose_and_unknown_ends_are_told_with_what_the_wire_is():
    wires = [*WIRES, "W4 = switch:out > loose", "W5 = unknown > fuse:in", "W6 = loose > unknown"]
    assert texts("ends-nowhere", wires=wires) == [
        "the black wire W4 from 'out' on the switch ends loose; live with the switch on",
        "the black wire W5 from 'in' on the fuse ends where nobody has seen it; always live",
        "the black wire W6 of which no end is known ends loose; "
        "neither live nor earth, and nothing hangs on it",
        "the black wire W6 of which no end is known ends where nobody has seen it; "
        "neither live nor earth, and nothing hangs on it",
    ]


def test_what_is_assumed_is_told_and_what_is_seen_is_not():
    base = {"colour": "BK", "mm2": 1, "metres": 1}
    wires = [
        {"wire": "W1", **base, "ends": ["feed:in", "fuse:in"], "known": "assumed"},
        {"wire": "W2", **base, "ends": ["fuse:out", {"at": "lamp:L", "known": "assumed"}], "known": "seen"},
    ]
    places = {
        "fuse": {"part": "fuse", "zone": "z", "known": "assumed"},
        "lamp": {"part": "lamp", "zone": "z", "known": "seen"},
    }
    feeds = {"in": {"role": "30", "known": "assumed"}}
    assert texts("assumed", feeds=feeds, wires=[], more={"wires": wires, "places": places}) == [
        "what the feed in is",
        "that the fuse is a fuse (fuse)",
        "that the black wire W1 goes from the feed in to 'in' on the fuse",
        "that the black wire W2 is on L on the lamp",
    ]


def test_everything_is_in_the_json():
    made = bench()
    document = explain(made.loom, made.catalogue).as_json()
    assert document["loads"][0]["ways"][0]["wires"] == ("black (W1, W2, W3)",)
    assert set(document) == {"loom", "title", "supply", "loads", "findings", "not_seen"}
