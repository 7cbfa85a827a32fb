"""A state that is seen from another one has the volts that it has by itself."""

import numpy as np
import pytest
from testing_ground import ground

from planner.testing.hunt.networks import FEW, Networks
from planner.testing.hunt.ports import Difference
from planner.testing.hunt.vehicle import Vehicle


@pytest.mark.parametrize(
    "moved",
    [
        {"dash.lighting-switch/lighting": "head"},
        {"dash.ignition-switch/ignition": "on", "dash.wiper-switch/wiper": "slow"},
    ],
)
def test_a_state_of_few_worlds_is_seen_from_another_and_has_its_own_volts(moved: dict[str, str]) -> None:
    van = ground("two-speed-wipers")
    vehicle = Vehicle(van.wired, van.catalogue)
    rest = {name: v.values[0] for name, v in vehicle.net.variables.items()}
    closed = vehicle.grid.closed(rest | moved)
    networks = Networks(vehicle.nodes, vehicle.grid)
    assert networks.of(vehicle.grid.closed(rest), 1).is_own  # there is no other yet
    seen = networks.of(closed, FEW)
    assert not seen.is_own
    gone = frozenset(seen.place[n] for n in seen.gone)
    added = tuple(vehicle.grid.branches[n].branch for n in seen.added)
    volts, settled = seen.ports.volts([Difference(gone, added)])
    own = networks.of(closed, FEW + 1)
    assert own.is_own and settled.all()
    assert np.abs(own.ports.whole).max() > 11.0
    assert volts[0] == pytest.approx(own.ports.whole, abs=1e-3)
