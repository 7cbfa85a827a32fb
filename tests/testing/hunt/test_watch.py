"""What the watch calls still does not move when it is followed by itself."""

import numpy as np
import pytest
from testing_ground import ground

from planner.testing.hunt.edits import Edits
from planner.testing.hunt.moves import Moves
from planner.testing.hunt.settling import Settling
from planner.testing.hunt.sound import Sound
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.hunt.watch import Watch


@pytest.mark.parametrize(
    "setting",
    [
        (("dash.ignition-switch/ignition", "on"), ("dash.wiper-switch/wiper", "slow")),
        (("column.turn-lever/turn", "left"), ("dash.ignition-switch/ignition", "on")),
        (("column.dip-lever/dip lever", "pulled"), ("dash.lighting-switch/lighting", "head")),
    ],
)
def test_a_world_that_stays_by_the_watch_does_not_move(setting: tuple[tuple[str, str], ...]) -> None:
    van = ground("two-speed-wipers")
    vehicle = Vehicle(van.wired, van.catalogue)
    moves = Moves(vehicle)
    settling, watch = Settling(Sound(moves), Edits(vehicle), setting), Watch(moves)
    ends = settling.settle(range(vehicle.singles))
    for state in (settling.sound.state, settling.solving.rest(setting)):
        for follow in (True, False):
            volts = np.array([end.volts for end in ends.values()])
            stays = watch.stays(state, volts, list(ends), follow=follow)
            still = [w for w in ends if moves.next(w, state, ends[w].volts, follow=follow) is None]
            assert set(np.flatnonzero(stays).tolist()) <= set(still)
            own = [w for w in still if watch.column.keys().isdisjoint(vehicle.worlds[w].edit.gone)]
            assert set(own) <= set(np.flatnonzero(stays).tolist())
