"""Trailer sockets against ISO 1724 and ISO 11446, contact by contact; basis row by row in the table."""

import pytest
from small_looms import Bench

PARTS = {"ISO 1724": "trailer-socket-7", "ISO 11446": "trailer-socket-13"}
# Sockets of which only the contacts are known to the catalogue, not what a trailer hangs on them.
BARE = {"ISO 3732": "trailer-socket-12s", "ISO 12098": "trailer-socket-15"}
# Where the standard's table gives no DIN designation, the role is ours.
OURS = {"reversing lamps": "reversing", "rear fog lamps": "fog-rear"}
# What the standard's contact feeds on a trailer, by the words of its function.
RELAYS_OF = {
    "1": ["left relay"],
    "4": ["right relay"],
    "6": ["stop relay"],
}
FUNCTIONS = {
    "trailer left turn lamp": "turn-signal lamps, left",
    "trailer right turn lamp": "turn-signal lamps, right",
    "trailer right tail lamp": "tail, outline-marker and number-plate lamps, right",
    "trailer left tail lamp": "tail, outline-marker and number-plate lamps, left",
    "trailer stop lamps": "stop lamps",
}


def contacts(table, standard: str) -> dict[str, dict[str, str]]:
    return {row["contact"]: row for row in table("sockets") if row["standard"] == standard}


@pytest.mark.parametrize(("standard", "part"), [*PARTS.items(), *BARE.items()])
def test_every_contact_has_the_role_of_the_standard(catalogue, table, standard, part):
    rows = contacts(table, standard)
    terminals = catalogue.parts[part].terminals
    assert set(terminals) == set(rows)
    for number, row in rows.items():
        expected = row["din_designation"] or OURS.get(row["function"])
        assert terminals[number].role == expected, f"{standard} contact {number}: {row['function']}"


@pytest.mark.parametrize("standard", PARTS)
def test_every_contact_feeds_the_lamps_the_standard_says(catalogue, table, standard):
    """One contact live at a time, the trailer coupled, the return at contact 3."""
    rows = contacts(table, standard)
    part = catalogue.parts[PARTS[standard]]
    for number, row in rows.items():
        if row["din_designation"] == "31":
            continue
        bench = Bench(
            {"socket": part},
            {"tow": "socket"},
            [f"feed:x > tow:{number}", "tow:3 > earth"],
            {"x": {"role": "54"}},
        )
        lit = {what for what in FUNCTIONS if bench.shows(f"tow/{what}", tow__trailer="coupled") == "full"}
        assert lit == {what for what, function in FUNCTIONS.items() if function == row["function"]}, number
        dark = {bench.shows(f"tow/{what}", tow__trailer="uncoupled") for what in FUNCTIONS}
        assert dark == {"off"}


@pytest.mark.parametrize("standard", PARTS)
def test_contact_3_is_the_common_return(catalogue, table, standard):
    assert contacts(table, standard)["3"]["function"].startswith("common return")
    part = catalogue.parts[PARTS[standard]]
    bench = Bench({"socket": part}, {"tow": "socket"}, ["feed:x > tow:6"], {"x": {"role": "54"}})
    assert bench.shows("tow/trailer stop lamps", tow__trailer="coupled") == "off"


def test_contacts_1_to_7_are_shared_by_both_standards_but_contact_2_is_a_question(catalogue, table):
    old, new = contacts(table, "ISO 1724"), contacts(table, "ISO 11446")
    for number in "134567":
        assert old[number]["din_designation"] == new[number]["din_designation"]
        assert old[number]["function"].split(" for ")[0] == new[number]["function"].split(" for ")[0]
    assert old["2"]["function"] != new["2"]["function"]
    assert catalogue.parts["trailer-socket-7"].terminals["2"].role == "54g"
    assert catalogue.parts["trailer-socket-13"].terminals["2"].role == "fog-rear"


def test_supplementary_socket_has_its_counterparts_by_function(table):
    """ISO 3732 to ISO 11446: reversing, permanent and switched positive move; 2 and 5 have no counterpart."""
    extra, new = contacts(table, "ISO 3732"), contacts(table, "ISO 11446")
    for number, target in (("4", "9"), ("6", "10")):
        assert extra[number]["din_designation"] == new[target]["din_designation"]
    assert extra["1"]["function"] == new["8"]["function"] == "reversing lamps"
    functions = {row["function"] for row in new.values()}
    assert not functions & {extra["2"]["function"], extra["5"]["function"]}


def test_returns_3_11_and_13_are_not_joined_on_the_trailer(catalogue):
    """Three returns for three groups of contacts; the part joins none of them."""
    part = catalogue.parts["trailer-socket-13"]
    for first, second in (("3", "11"), ("11", "13"), ("3", "13")):
        bench = Bench(
            {"socket": part},
            {"tow": "socket"},
            [f"feed:x > tow:{first}", f"tow:{second} > earth"],
            {"x": {"role": "30"}},
        )
        assert bench.events({"tow/trailer": "coupled"}, "short") == set()


def test_a_converter_takes_the_contacts_of_the_socket_that_it_stands_for(catalogue, table):
    """And one more, for the feed that it gives the trailer."""
    rows = contacts(table, "ISO 1724")
    terminals = catalogue.parts["trailer-socket-7-converter"].terminals
    assert {mark: terminals[mark].role for mark in rows} == {
        number: row["din_designation"] for number, row in rows.items()
    }
    assert set(terminals) - set(rows) == {"30"}


@pytest.mark.parametrize("number", RELAYS_OF)
def test_a_converter_lights_turn_and_stop_lamps_from_its_own_feed_alone(catalogue, number):
    part = catalogue.parts["trailer-socket-7-converter"]
    feeds = {"x": {"role": "54"}, "own": {"role": "30", "when": {"fuse": ["in"]}}}
    wires = [f"feed:x > tow:{number}", "feed:own > tow:30", "tow:3 > earth"]
    bench = Bench({"socket": part}, {"tow": "socket"}, wires, feeds, {"fuse": ["out", "in"]})
    same = catalogue.parts["trailer-socket-7"]
    plain = Bench(
        {"socket": same},
        {"tow": "socket"},
        [f"feed:x > tow:{number}", "tow:3 > earth"],
        feeds,
        {"fuse": ["out", "in"]},
    )
    for what in FUNCTIONS:
        relay = {f"tow__{name}": "pulled" for name in RELAYS_OF[number]}
        with_feed = bench.shows(f"tow/{what}", tow__trailer="coupled", fuse="in", **relay)
        assert with_feed == plain.shows(f"tow/{what}", tow__trailer="coupled", fuse="in"), what
        assert bench.shows(f"tow/{what}", tow__trailer="coupled", fuse="out", **relay) == "off", what
