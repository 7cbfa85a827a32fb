"""Observations as people type them, and what is said to those that mean nothing."""

import pytest

from planner.model.catalogue import Catalogue
from planner.model.observations import OPEN_OHMS
from planner.pipeline import open_catalogue
from planner.reading.catalogue import read_loom
from planner.reading.seen_line import line_of, read_line
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood


@pytest.fixture(scope="module")
def words() -> SeenWords:
    catalogue: Catalogue = open_catalogue()
    return SeenWords(read_loom("skarrow-8", catalogue), catalogue)


SIDE = (("dash.lighting-switch/lighting", "side"),)


@pytest.mark.parametrize(
    ("line", "kind", "at", "says", "settings", "to"),
    [
        ("left side lamp off with lighting switch side", "looks", "left.side/side lamp", "off", SIDE, ""),
        ("left headlight dipped beam: dim", "looks", "left.headlamp/dipped beam", "dim", (), ""),
        ("12,1 V at M on the wiper motor", "volts", "scuttle.wiper-motor:M", 12.1, (), ""),
        ("-0.3 volts at bay.battery:+", "volts", "bay.battery:+", -0.3, (), ""),
        ("350 mV from M on wiper switch to M on wiper motor", "volts", "dash.wiper-switch:M", 0.35, (),
         "scuttle.wiper-motor:M"),
        ("0.3 ohm from M on the wiper motor to earth", "ohms", "scuttle.wiper-motor:M", 0.3, (), ""),
        ("open between M on wiper switch and M on wiper motor", "ohms", "dash.wiper-switch:M", OPEN_OHMS, (),
         "scuttle.wiper-motor:M"),
        ("test lamp dark at M on the wiper motor", "lamp", "scuttle.wiper-motor:M", "dark", (), ""),
        ("fuse 3 on the fuse box blown", "fuse", "dash.fuse-box:3", "yes", (), ""),
        ("wire W36 on S on the wiper motor", "sits", "W36.1", "scuttle.wiper-motor:S", (), ""),
        ("wire W36 loose at M on the wiper motor", "sits", "W36.1", "loose", (), ""),
        ("wire W36 gets warm", "warm", "W36", "yes", (), ""),
        ("left front turn lamp flashes fast with ignition on, turn switch left", "looks",
         "left.front/turn lamp", "flashes fast",
         (("column.turn-switch/turn", "left"), ("dash.ignition-switch/ignition", "on")), ""),
    ],
)  # fmt: skip
def test_a_line_is_read_and_reads_back_the_same(
    words: SeenWords, line: str, kind: str, at: str, says: object, settings: object, to: str
) -> None:
    seen = read_line(line, words)
    assert (seen.kind, seen.at, seen.says, seen.settings, seen.to) == (kind, at, says, settings, to)
    again = read_line(line_of(seen), words)
    assert (again.kind, again.at, again.says, again.settings, again.to) == (kind, at, says, settings, to)


@pytest.mark.parametrize("line", ["headlights off", "lights dim", "side lamp off"])
def test_several_loads_in_one_word_are_asked_for_one_by_one(words: SeenWords, line: str) -> None:
    with pytest.raises(NotUnderstood, match="may mean") as error:
        read_line(line, words)
    assert "/" in error.value.hint


def test_ohms_with_the_fuses_out_and_to_the_body_are_told_from_others(words: SeenWords) -> None:
    seen = read_line("0.3 ohm from M on the wiper motor to body with fuses out", words)
    assert (seen.kind, seen.to, seen.has_fuses_out) == ("ohms", "earth", True)
    again = read_line(line_of(seen), words)
    assert (again.to, again.has_fuses_out) == ("earth", True)
    assert not read_line("0.3 ohm from M on the wiper motor to earth", words).has_fuses_out
    with pytest.raises(NotUnderstood, match="the fuses are out"):
        read_line("12 V at M on the wiper motor with fuses out", words)


@pytest.mark.parametrize(
    ("line", "message", "hint"),
    [
        ("12 A at M on the wiper motor", "no unit", "V or ohm"),
        ("99 V at M on the wiper motor", "more than a vehicle of 12 V can have", "-24 to 24"),
        ("12 V at 77 on the wiper motor", "no terminal is called", "a mark and its part"),
        ("left side lamb off", "no load called", "left.side/side lamp"),
        ("side lamp off", "may mean 2 things", "left.side/side lamp or right.side/side lamp"),
        ("left side lamp purple", "'purple' says not how side lamp left side lamp looks", "off, glows, dim"),
        (
            "fuel gauge reads water",
            "says not where the needle of fuel gauge",
            "reads too low, reads too high",
        ),
        ("purple rain", "not understood", "left headlamp dipped beam off"),
        ("left side lamp off with lighting switch sideways", "no position", "side"),
        ("1,500 V at bay.battery:+", "may mean 1.500 or 1500", "a point in place of the comma"),
        ("", "not understood", "one of these"),
    ],
)
def test_what_means_nothing_is_said_with_what_would(
    words: SeenWords, line: str, message: str, hint: str
) -> None:
    with pytest.raises(NotUnderstood) as error:
        read_line(line, words)
    assert message in error.value.message
    assert hint in error.value.hint
