"""One setting of the controls, and what every node has there in each world."""

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array
from planner.currents.grid import is_met
from planner.testing.hunt.moves import Moves, State
from planner.testing.hunt.per_world import PerWorld, Worlds
from planner.testing.hunt.powers import Powers
from planner.testing.hunt.settling import Setting, Settling
from planner.testing.hunt.vehicle import NOTHING, Vehicle

CARRIES_AMPS = 0.02  # more than a meter or a leak takes
SWINGS_VOLTS = 0.5  # between the halves of a beat: from here on a meter's pointer swings


class Position:
    """One setting of the controls, with the volts of all nodes in the worlds that were asked for."""

    def __init__(self, vehicle: Vehicle, moves: Moves, powers: Powers, setting: Setting) -> None:
        self.vehicle, self.moves, self.powers = vehicle, moves, powers
        self.settling = Settling(vehicle, moves, setting)
        self.states: dict[int, State] = {}
        self.volts, self.dark = (np.zeros((0, len(vehicle.nodes))) for _ in range(2))
        self.known = np.zeros(0, dtype=bool)
        self.is_beating = np.zeros(0, dtype=bool)
        self.beats, self.shows = PerWorld(self._beats), PerWorld(self._shows)
        # The share of its rated power that each load gets, a column each; dark: in the dark half of a beat.
        self.light, self.in_dark = (np.zeros((0, len(powers.column))) for _ in range(2))

    def ask(self, worlds: Worlds) -> None:
        """Solve the worlds of these that were not asked for before."""
        if len(self.vehicle.worlds) > len(self.known):
            self._make_room(max(len(self.vehicle.worlds), 2 * len(self.known)))
        wanted = worlds[~self.known[worlds]]
        if not wanted.size:
            return
        for world, end in self.settling.settle(wanted.tolist()).items():
            self.states[world], self.volts[world], self.dark[world] = end
            self.is_beating[world] = bool(end.state.beating)
        self.known[wanted] = True
        self.light[wanted] = self._power(self.volts[wanted], wanted)
        self.in_dark[wanted] = self._power(self.dark[wanted], wanted)

    def _make_room(self, count: int) -> None:
        """Rows for so many worlds; those that nobody has asked for take no memory yet."""
        full = np.flatnonzero(self.known)
        for name in ("volts", "dark", "light", "in_dark", "is_beating", "known"):
            own = getattr(self, name)
            room = np.zeros((count, *own.shape[1:]), own.dtype)
            room[full] = own[full]
            setattr(self, name, room)

    def _power(self, volts: Array, worlds: Worlds) -> Array:
        """The share of rated power at the volts of each world; none where a guard is not met."""
        found = self.powers.of(volts, worlds)
        held = self.settling.held
        kinds = {self.states[world].hidden for world in worlds.tolist()} if self.powers.guards else ()
        for column, guard in self.powers.guards.items():
            met = {hidden: is_met(guard, held | dict(hidden)) for hidden in kinds}
            found[[not met[self.states[world].hidden] for world in worlds.tolist()], column] = 0.0
        return found

    def _beats(self, worlds: Worlds) -> Array:
        """The share of the sound current through the flasher; 1 where it beats whatever the lamps take."""
        return np.array([self._beat(world) for world in worlds.tolist()])

    def _beat(self, world: int) -> float:
        self.ask(np.array([NOTHING]))
        for name, index in self.moves.flashers.items():
            if not self.vehicle.net.beats[name].supply and name in self.states[NOTHING].beating:
                sound = abs(self.moves.amps(NOTHING, index, self.volts[NOTHING]))
                return abs(self.moves.amps(world, index, self.volts[world])) / sound
        return 1.0

    @cached_property
    def carrying(self) -> frozenset[int]:
        """The branches of the grid that carry current in the sound vehicle."""
        self.ask(np.array([NOTHING]))
        grid, nodes, volts = self.vehicle.grid, self.vehicle.nodes, self.volts[NOTHING]
        position = self.settling.held | dict(self.states[NOTHING].hidden)
        return frozenset(
            index
            for index in grid.closed(position)
            for branch in [grid.branches[index].branch]
            if abs(branch.law.amps(float(volts[nodes[branch.a]] - volts[nodes[branch.b]]))) > CARRIES_AMPS
        )

    def _shows(self, worlds: Worlds) -> Array:
        """Whether each world takes away what carries current here, or joins what has other volts: 1 or 0."""
        carrying, volts, nodes = self.carrying, self.volts[NOTHING], self.vehicle.nodes
        edits = [self.vehicle.worlds[world].edit for world in worlds.tolist()]
        return np.array(
            [
                not edit.gone.isdisjoint(carrying)
                or any(
                    abs(volts[nodes[g.branch.a]] - volts[nodes[g.branch.b]]) > 0.5
                    for g in edit.added
                    if g.branch.name[0] != "wire" or not edit.gone
                )
                for edit in edits
            ],
            dtype=float,
        )

    @property
    def swinging(self) -> NDArray[np.bool_]:
        """The nodes at which a meter swings in the sound vehicle: a flasher beats, or a cam turns."""
        self.ask(np.array([NOTHING]))
        found: NDArray[np.bool_] = np.abs(self.volts[NOTHING] - self.dark[NOTHING]) > SWINGS_VOLTS
        return found
