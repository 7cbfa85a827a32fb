"""What goes without saying is added to what was seen, and nothing else."""

import pytest
from testing_ground import ground

from planner.reading.seen_lines import read_lines
from planner.reading.seen_words import SeenWords
from planner.testing.hunt.known import Known
from planner.testing.hunt.meant import settings_meant
from planner.testing.hunt.vehicle import Vehicle

BRAKING = ("brake pedal", "pressed")
HEAD = ("dash.lighting-switch/lighting", "head")
SIDE = ("dash.lighting-switch/lighting", "side")
IGNITION, LEFT = ("dash.ignition-switch/ignition", "on"), ("column.turn-switch/turn", "left")
PUSH = ("column.horn-push/horn button", "pressed")


@pytest.fixture(scope="module")
def known() -> Known:
    van = ground("two-speed-wipers")
    return Known(Vehicle(van.wired, van.catalogue))


@pytest.mark.parametrize(
    ("said", "may"),
    [
        ("side lamps dim when braking", [(BRAKING, HEAD), (BRAKING, SIDE)]),
        ("left headlamp dipped beam dim with brake pedal pressed", [(BRAKING, HEAD)]),
        ("side lamps dim with lighting switch head", [(HEAD,)]),
        ("side lamps glow when braking", [(BRAKING,)]),
        ("side lamps off when braking", [(BRAKING,)]),
        ("right front turn lamp flashes with turn left", [(LEFT, IGNITION)]),
        ("horn off", [(PUSH,)]),
        ("horn full", [()]),
        ("horn off with everything at rest", [()]),
        ("left side lamp dim with everything off", [()]),
    ],
)
def test_a_load_that_gets_dim_is_on_and_one_that_fails_was_tried(
    known: Known, said: str, may: list[tuple[tuple[str, str], ...]]
) -> None:
    words = SeenWords(known.vehicle.wired.loom, known.vehicle.catalogue)
    for seen in read_lines(said, words):
        assert sorted(settings_meant(known, seen)) == may
