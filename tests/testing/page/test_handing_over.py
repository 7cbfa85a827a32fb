"""A lamp on a dead circuit tells the hunt what it tells a person."""

import numpy as np
import pytest
from testing_ground import ground

from planner.model.observations import Observation
from planner.reading.seen_line import line_of, read_line
from planner.reading.seen_words import SeenWords
from planner.testing.hunt.agreeing import agrees
from planner.testing.hunt.known import Known
from planner.testing.hunt.vehicle import NOTHING, Vehicle

AT, TO = "dash.ignition-switch:ST", "joint:bulkhead-start"


@pytest.fixture(scope="module")
def known() -> Known:
    van = ground("two-speed-wipers")
    return Known(Vehicle(van.wired, van.catalogue))


def test_a_lamp_that_stays_dark_on_a_dead_circuit_speaks_for_a_broken_wire(known: Known) -> None:
    vehicle = known.vehicle
    number = next(n for n, mistake in enumerate(vehicle.mistakes) if mistake.id == "W11/0-open")
    broken = next(n for n, world in enumerate(vehicle.worlds) if world.mistakes == (number,))
    worlds = np.array([NOTHING, broken])
    dark, lit = (
        agrees(Observation("lamp", AT, says, (), TO, has_fuses_out=True), known.outlook, worlds)
        for says in ("dark", "lit")
    )
    assert max(dark[0], lit[1]) < 0.01
    assert min(dark[1], lit[0]) > 0.9


def test_it_is_kept_as_what_it_is(known: Known) -> None:
    words = SeenWords(known.vehicle.wired.loom, known.vehicle.catalogue)
    seen = Observation("lamp", AT, "dark", (), TO, has_fuses_out=True)
    again = read_line(line_of(seen), words)
    assert (again.kind, again.at, again.to, again.says, again.has_fuses_out) == ("lamp", AT, TO, "dark", True)
