"""Lines that name several lamps, or say by what works how the controls stand."""

import pytest

from planner.pipeline import open_catalogue
from planner.reading.catalogue import read_loom
from planner.reading.seen_lines import read_lines
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood

BRAKING = (("brake pedal", "pressed"),)
HEAD, SIDE = ((("dash.lighting-switch/lighting", label),) for label in ("head", "side"))
LEFT = (("column.turn-switch/turn", "left"), ("dash.ignition-switch/ignition", "on"))


@pytest.fixture(scope="module")
def words() -> SeenWords:
    catalogue = open_catalogue()
    return SeenWords(read_loom("skarrow-8", catalogue), catalogue)


@pytest.mark.parametrize(
    ("line", "loads", "says", "settings"),
    [
        ("side lamps dim when braking", {"left.side/side lamp", "right.side/side lamp"}, "dim", BRAKING),
        ("both tail lights off with side lights on",
         {"left.tail/tail lamp", "right.tail/tail lamp"}, "off", SIDE),
        ("low beam dead on the left with headlights on", {"left.headlamp/dipped beam"}, "off", HEAD),
        ("left side lamp glows with parking lights on", {"left.side/side lamp"}, "glows", SIDE),
        ("front turn lamps flash fast with ignition on, indicating left",
         {"left.front/turn lamp", "right.front/turn lamp"}, "flashes fast", LEFT),
    ],
)  # fmt: skip
def test_one_line_is_a_look_at_each_load_that_it_names(
    words: SeenWords, line: str, loads: set[str], says: str, settings: object
) -> None:
    seen = read_lines(line, words)
    assert {each.at for each in seen} == loads
    assert all((o.says, o.settings, o.said) == (says, settings, line) for o in seen)


@pytest.mark.parametrize(
    "line", ["headlights off", "both headlights off", "side lamps purple", "lamps with tea"]
)
def test_what_names_loads_that_do_different_things_is_asked_for_one_by_one(
    words: SeenWords, line: str
) -> None:
    with pytest.raises(NotUnderstood):
        read_lines(line, words)
