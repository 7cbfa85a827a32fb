"""The ohms that a meter finds in a world are those of its own network, solved by itself."""

import random

import numpy as np
import pytest
from testing_ground import ground

from planner.currents.ohmmeter import cold_ohms
from planner.model.observations import OPEN_OHMS
from planner.testing.hunt.dead import Dead
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.mistakes.applied import changed_grid


def test_ohms_in_a_world_are_those_of_its_own_network() -> None:
    van = ground("two-speed-wipers")
    vehicle, lots = Vehicle(van.wired, van.catalogue), random.Random(7)
    dead, compared = Dead(vehicle), 0
    addresses = sorted(a for a in van.wired.loom.ends_at if a in vehicle.grid_nodes)
    for world in lots.sample(range(1, vehicle.singles), 30):
        grid = changed_grid(vehicle.grid, vehicle.worlds[world].edit)
        at = lots.choice(addresses)
        nodes = {node for gated in grid.branches for node in (gated.branch.a, gated.branch.b)}
        if at not in nodes:
            continue
        there = dict(dead.position)
        alone = min(cold_ohms(grid, there, at, grid.zero), OPEN_OHMS)
        read = float(dead.ohms(at, "", np.array([world]))[0])
        # A meter of 10 megohm is at every node at once: a way that is open reads less than without it.
        assert read == pytest.approx(alone, rel=0.05, abs=0.01), (vehicle.words(world), at)
        compared += 1
    assert compared > 20
