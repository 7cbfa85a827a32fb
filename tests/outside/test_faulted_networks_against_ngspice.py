"""What mistakes foretell of a van's readings against ngspice: 510 faulted networks, every node of each."""

import random

import pytest
from spice import Circuit, needs_ngspice, node_volts
from testing_ground import ground

from planner.currents.grid import is_met
from planner.currents.laws import Resistance
from planner.currents.solver import Branch
from planner.testing.hunt.edits import Edits
from planner.testing.hunt.moves import Moves
from planner.testing.hunt.ports import LEAK
from planner.testing.hunt.settling import Settling
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.sound import Sound
from planner.testing.hunt.vehicle import Vehicle

pytestmark = needs_ngspice
EACH = 170  # mistakes in each of three settings
MOST_V = 0.006  # a meter tells no less
SETTINGS: tuple[Setting, ...] = (
    (("dash.ignition-switch/ignition", "on"), ("dash.wiper-switch/wiper", "fast")),
    (("dash.ignition-switch/ignition", "on"), ("gear", "reverse")),
    (("brake pedal", "pressed"), ("dash.lighting-switch/lighting", "head")),
)


@pytest.mark.parametrize("setting", SETTINGS)
def test_foretold_volts_agree(setting: Setting) -> None:
    van = ground("two-speed-wipers")
    vehicle = Vehicle(van.wired, van.catalogue)
    settling = Settling(Sound(Moves(vehicle)), Edits(vehicle), setting)
    worlds = random.Random(str(setting)).sample(range(1, vehicle.singles), EACH)
    ends = settling.settle(worlds)
    circuits = []
    for world in worlds:
        edit, state = vehicle.worlds[world].edit, ends[world].state
        position = settling.held | dict(state.hidden)
        kept = [g for n, g in enumerate(vehicle.grid.branches) if n not in edit.gone | state.blown]
        branches = [g.branch for g in (*kept, *edit.added) if is_met(g.guard, position)]
        # Hunts take a meter of 10 megohm to be at every node at once; behind 1000 ohm many of them show.
        nodes = sorted({node for branch in branches for node in (branch.a, branch.b)} - {vehicle.grid.zero})
        branches += [Branch(("meter", n), n, vehicle.grid.zero, Resistance(1.0 / LEAK)) for n in nodes]
        circuits.append(Circuit(vehicle.words(world), branches, vehicle.grid.zero))
    compared, worst, where = 0, 0.0, ""
    for world, circuit, reference in zip(worlds, circuits, node_volts(circuits), strict=True):
        for node, volts in reference.items():
            compared += 1
            off = abs(float(ends[world].volts[vehicle.nodes[node]]) - volts)
            if not off <= worst:
                worst, where = off, f"{circuit.name}, {node}"
    print(f"{len(circuits)} faulted networks, {compared:,} nodes: worst difference {worst:.2e} V ({where})")
    assert compared > 100 * EACH
    assert worst <= MOST_V, where
