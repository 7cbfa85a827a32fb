"""What a suspect has to do with: its wires and those on the way, each mark where a hand would look."""

import pytest
from testing_ground import ground

from planner.model.observations import Observation
from planner.pictures.marked import draw_marked
from planner.testing.hunt.affected import MOST_WIRES, Affected, affected
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.vehicle import Vehicle

WIPE = (("dash.ignition-switch/ignition", "on"), ("dash.wiper-switch/wiper", "slow"))


@pytest.fixture(scope="module")
def known() -> Known:
    van = ground("two-speed-wipers")
    return Known(Vehicle(van.wired, van.catalogue))


def of(known: Known, mistake: str) -> Affected:
    hunt = Hunt(known)
    hunt.add(Observation("looks", "scuttle.wiper-motor/wipe slowly", "off", WIPE))
    number = next(n for n, each in enumerate(known.vehicle.mistakes) if each.id == mistake)
    return affected(hunt, next(n for n, w in enumerate(known.vehicle.worlds) if w.mistakes == (number,)))


@pytest.mark.parametrize(
    ("mistake", "leg", "words"),
    [
        ("W36.1-off", ("W36", 0), "suspected: hangs loose"),
        ("W36.1-traded-W37.1", ("W37", 0), "suspected: on 53 on the wiper motor, scuttle"),
        ("W13/1-open", ("W13", 1), "suspected: broken"),
        ("W36/0-poor", ("W36", 0), "suspected: a poor joint, about 0.3 ohm"),
        ("W36/0-earthed", ("W36", 0), "suspected: touches the body"),
        ("W36-chafed-W37", ("W36", 0), "suspected: chafed, touches the yellow/black wire (W37)"),
        ("new-scuttle.wiper-motor..31+earth..bay-not-made",
         ("new-scuttle.wiper-motor..31+earth..bay", 0), "suspected: was not made"),
    ],
)  # fmt: skip
def test_the_leg_that_is_suspected_is_marked(
    known: Known, mistake: str, leg: tuple[str, int], words: str
) -> None:
    assert of(known, mistake).legs[leg] == words


def test_a_part_that_is_suspected_is_marked_with_the_wires_on_it(known: Known) -> None:
    own = of(known, "dash.fuse-box/2-fuse-blown")
    assert own.places == {"dash.fuse-box": "suspected: fuse blown"}
    assert "W33" in own.wires and not own.legs


def test_the_wires_on_the_way_to_what_was_seen_are_there_too(known: Known) -> None:
    own = of(known, "W36.1-off")
    assert {"W1", "W14", "W33", "W36"} <= own.wires.keys()
    assert "W88" not in own.wires  # of a side lamp
    assert len(own.wires) <= MOST_WIRES


def test_the_picture_shows_the_wires_and_says_the_mark_below_the_one_that_is_suspected(known: Known) -> None:
    own, wired = of(known, "W36.1-off"), known.vehicle.wired
    picture = draw_marked(wired.loom, known.vehicle.catalogue, tuple(own.wires), own.legs, own.places, "x")
    assert all(f'data-wire="{wire}"' in picture.svg for wire in own.wires)
    assert picture.words.count("suspected") == 1
    assert "W36, yellow: 53 on the wiper switch" in picture.words
    assert "hangs" in picture.svg and "font-weight" in picture.svg
