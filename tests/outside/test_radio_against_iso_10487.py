"""The radio's connectors against the public tables of ISO 10487, contact by contact."""

import csv
from pathlib import Path

from small_looms import Bench

TABLE = Path(__file__).parent / "reference" / "audio.csv"
ROWS = {
    row["contact"]: row["function"] for row in csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines())
}
ROLES = {
    "permanent positive (memory)": "30",
    "positive switched by the ignition": "75",
    "ground": "31",
    "illumination feed": "58d",
}
STANDARD, CROSSED = "radio-iso-10487", "radio-crossed-feeds"
KEY = {"key": ["out", "in"]}


def test_every_contact_of_both_connectors_is_there_with_its_role(catalogue):
    terminals = catalogue.parts[STANDARD].terminals
    assert set(terminals) == set(ROWS)
    for contact, function in ROWS.items():
        assert terminals[contact].role == ROLES.get(function), f"{contact}: {function}"


def test_contacts_with_a_role_must_be_connected_and_the_others_may_stay_empty(catalogue):
    """Optional ones and loudspeakers belong to no circuit that a plan could know."""
    for contact, terminal in catalogue.parts[STANDARD].terminals.items():
        assert (terminal.wants == "nothing") == (contact not in ("A4", "A7", "A8")), contact


def shows(catalogue, name: str, permanent: str, switched: str, key: str) -> tuple[str, str]:
    """What set and memory do with two feeds on two contacts."""
    feeds = {"p": {"role": "30"}, "s": {"role": "75", "when": {"key": ["in"]}}}
    wires = [f"feed:p > r:{permanent}", f"feed:s > r:{switched}", "r:A8 > earth"]
    bench = Bench({"radio": catalogue.parts[name]}, {"r": "radio"}, wires, feeds, KEY)
    position = {"key": key, "r__radio switch": "on"}
    return bench.shows("r/radio", **position), bench.shows("r/keep the stations", **position)


def test_wired_as_the_standard_says_it_keeps_its_stations_and_plays_with_the_key(catalogue):
    assert shows(catalogue, STANDARD, "A4", "A7", "out") == ("off", "full")
    assert shows(catalogue, STANDARD, "A4", "A7", "in") == ("full", "full")


def test_with_a4_and_a7_crossed_it_forgets_and_plays_without_the_key(catalogue):
    assert shows(catalogue, STANDARD, "A7", "A4", "out") == ("full", "off")


def test_the_set_with_crossed_feeds_wants_just_that(catalogue):
    assert shows(catalogue, CROSSED, "A7", "A4", "out") == ("off", "full")
