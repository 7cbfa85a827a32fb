"""Worlds that are said to change nothing where another ends are there as that one is."""

import numpy as np
import pytest
from testing_ground import ground

from planner.testing.hunt.edits import Edits
from planner.testing.hunt.moves import Moves
from planner.testing.hunt.outlook import Outlook
from planner.testing.hunt.settling import Settling
from planner.testing.hunt.sound import Sound
from planner.testing.hunt.vehicle import NOTHING, Vehicle

LEAKS_V = 0.1
SETTINGS = [
    (),
    (("dash.ignition-switch/ignition", "on"), ("dash.wiper-switch/wiper", "slow")),
    (("column.turn-switch/turn", "left"), ("dash.ignition-switch/ignition", "on")),
]


@pytest.mark.parametrize("setting", SETTINGS)
def test_what_changes_nothing_has_the_volts_of_the_sound_vehicle(
    setting: tuple[tuple[str, str], ...],
) -> None:
    van = ground("two-speed-wipers")
    vehicle = Vehicle(van.wired, van.catalogue)
    settling = Settling(Sound(Moves(vehicle)), Edits(vehicle), setting)
    changing = settling.changing(settling.sound)
    still = np.flatnonzero(~changing).tolist()
    assert NOTHING in still
    assert 20 < len(still) < vehicle.singles
    # What leaks of a meter of 10 megohm at every node may lift a whole vehicle whose earth is off so far.
    for world, end in settling.settle(still).items():
        assert end.state == settling.sound.state, vehicle.words(world)
        assert np.abs(end.volts - settling.sound.volts).max() < LEAKS_V, vehicle.words(world)


def test_a_pair_of_which_one_changes_nothing_is_as_the_other() -> None:
    van = ground("two-speed-wipers")
    vehicle = Vehicle(van.wired, van.catalogue)
    setting = SETTINGS[1]
    position = Outlook(vehicle).position(setting)
    singles = np.arange(1, vehicle.singles)
    changing = position.changing(NOTHING)[singles]
    ones, others = singles[changing][::40], singles[~changing][::30]
    pairs = [p for one in ones for other in others if (p := vehicle.pair(int(one), int(other))) is not None]
    position.ask(np.array(pairs))
    alone = position.settling.settle(pairs[::4])
    assert len(alone) >= 20
    for pair, end in alone.items():
        assert np.abs(end.volts - position.all_volts(pair)).max() < LEAKS_V, vehicle.words(pair)
