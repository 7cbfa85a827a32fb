"""Faulted networks solved together are the same as each solved by itself."""

import random

import numpy as np
import pytest
from testing_ground import ground

from planner.currents.grid import is_met
from planner.currents.solver import solve
from planner.model.observations import OPEN_OHMS
from planner.testing.hunt.dead import Dead
from planner.testing.hunt.edits import Edits
from planner.testing.hunt.moves import Moves
from planner.testing.hunt.outlook import Outlook
from planner.testing.hunt.settling import Settling
from planner.testing.hunt.sound import Sound
from planner.testing.hunt.vehicle import NOTHING, Vehicle


@pytest.mark.parametrize(
    "setting",
    [
        (("dash.ignition-switch/ignition", "on"), ("dash.wiper-switch/wiper", "slow")),
        (("brake pedal", "pressed"), ("dash.ignition-switch/ignition", "on")),
        (("column.dip-lever/dip lever", "pulled"), ("dash.lighting-switch/lighting", "head")),
    ],
)
def test_every_world_has_the_volts_of_its_own_network(setting: tuple[tuple[str, str], ...]) -> None:
    van = ground("two-speed-wipers")
    vehicle = Vehicle(van.wired, van.catalogue)
    settling = Settling(Sound(Moves(vehicle)), Edits(vehicle), setting)
    worlds = [NOTHING, *random.Random(5).sample(range(1, vehicle.singles), 60)]
    for world, end in settling.settle(worlds).items():
        edit = vehicle.worlds[world].edit
        position = settling.held | dict(end.state.hidden)
        gone = edit.gone | end.state.blown
        kept = [g for n, g in enumerate(vehicle.grid.branches) if n not in gone]
        branches = [g.branch for g in (*kept, *edit.added) if is_met(g.guard, position)]
        point = solve(branches, vehicle.grid.zero)
        for node, number in vehicle.nodes.items():
            # A meter of 10 megohm at every node at once, on the far side of 1000 ohm, changes this much.
            volts = point.volts.get(node, 0.0)  # what nothing joins to the battery reads nothing
            assert end.volts[number] == pytest.approx(volts, abs=0.006), (node, vehicle.words(world))


@pytest.mark.parametrize(
    ("job", "setting", "mistake", "at"),
    [
        ("fuse-box-without-tap", ("dash.lighting-switch/lighting", "side"), "W41.0-on-dash.fuse-box:5",
         "dash.radio:A"),
        ("fuse-box-without-tap", ("dash.lighting-switch/lighting", "head"), "W42.0-on-dash.fuse-box:58",
         "dash.fuse-box:4"),
        ("whole-van", ("dash.hazard-switch/hazard", "on"), "W23.1-off", "column.horn-push:H"),
    ],
)  # fmt: skip
def test_what_a_mistake_leaves_hanging_on_nothing_reads_no_volts(
    job: str, setting: tuple[str, str], mistake: str, at: str
) -> None:
    van = ground(job)
    vehicle = Vehicle(van.wired, van.catalogue)
    (world,) = (
        n for n in range(1, vehicle.singles) if vehicle.mistakes[vehicle.worlds[n].mistakes[0]].id == mistake
    )
    volts = Outlook(vehicle).volts((setting,), at, "", np.array([NOTHING, world]))
    assert volts == pytest.approx([volts[0], 0.0], abs=0.001)


def test_an_ohmmeter_reads_something_in_every_world_of_a_small_loom() -> None:
    """Where a part falls off that nothing else joins, equations have no solution to the last digit."""
    van = ground("skarrow-8-rusty-nose")
    vehicle = Vehicle(van.wired, van.catalogue)
    worlds = np.arange(len(vehicle.worlds))
    dead = Dead(vehicle)
    read = [dead.ohms(address, "", worlds) for address in van.wired.loom.ends_at if address in vehicle.nodes]
    assert read and all(np.isfinite(ohms).all() and (ohms >= 0.0).all() for ohms in read)
    assert any((ohms == OPEN_OHMS).any() for ohms in read)
