"""One setting of the controls, and what every node has there in each world."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array
from planner.currents.grid import is_met
from planner.testing.hunt.edits import Edits, Flags
from planner.testing.hunt.moves import Moves, State
from planner.testing.hunt.per_world import PerWorld, Worlds
from planner.testing.hunt.powers import Powers
from planner.testing.hunt.settling import End, Setting, Settling
from planner.testing.hunt.vehicle import NOTHING, Vehicle

CARRIES_AMPS = 0.02  # more than a meter or a leak takes
JOINS_VOLTS = 0.5  # what is joined with less between changes next to nothing
SWINGS_VOLTS = 0.5  # between the halves of a beat: from here on a meter's pointer swings


class Position:
    """One setting of the controls, with the volts of all nodes in the worlds that were asked for."""

    def __init__(
        self, vehicle: Vehicle, moves: Moves, edits: Edits, powers: Powers, setting: Setting
    ) -> None:
        self.vehicle, self.moves, self.powers = vehicle, moves, powers
        self.settling = Settling(vehicle, moves, edits, setting)
        self.states: dict[int, State] = {}
        self._beside: dict[int, Flags] = {}  # by a world, which others change anything there
        self.volts, self.dark = (np.zeros((0, len(vehicle.nodes))) for _ in range(2))
        self.known = np.zeros(0, dtype=bool)
        self.is_beating = np.zeros(0, dtype=bool)
        self.beats = PerWorld(self._beats)
        # The share of its rated power that each load gets, a column each; dark: in the dark half of a beat.
        self.light, self.in_dark = (np.zeros((0, len(powers.column))) for _ in range(2))

    def ask(self, worlds: Worlds) -> None:
        """Solve the worlds of these that were not asked for before."""
        if len(self.vehicle.worlds) > len(self.known):
            self._make_room(max(len(self.vehicle.worlds), 2 * len(self.known)))
        wanted = worlds[~self.known[worlds]]
        if not wanted.size:
            return
        if not self.known[NOTHING]:
            self._put({NOTHING: self.settling.sound_end})
        bases = self._bases(wanted)
        as_base = bases != wanted
        self.ask(bases[as_base])
        some = wanted[~as_base & ~self.known[wanted]]
        if some.size:
            self._put(self.settling.settle(some.tolist()))
        wanted, bases = wanted[as_base], bases[as_base]
        for own in (self.volts, self.dark, self.light, self.in_dark, self.is_beating):
            own[wanted] = own[bases]
        self.states |= {w: self.states[base] for w, base in zip(wanted.tolist(), bases.tolist(), strict=True)}
        self.known[wanted] = True

    def _put(self, ends: Mapping[int, End]) -> None:
        """Take in how some worlds end."""
        worlds = np.array(list(ends), dtype=int)
        self.states |= {world: end.state for world, end in ends.items()}
        self.volts[worlds] = [end.volts for end in ends.values()]
        self.dark[worlds] = [end.dark for end in ends.values()]
        self.is_beating[worlds] = [bool(end.state.beating) for end in ends.values()]
        self.known[worlds] = True
        self.light[worlds] = self._power(self.volts[worlds], worlds)
        self.in_dark[worlds] = self._power(self.dark[worlds], worlds)

    def _bases(self, worlds: Worlds) -> Worlds:
        """For each world one in which all is as in it: without what changes nothing; or itself."""
        found = np.where(self.changing(NOTHING)[worlds], worlds, NOTHING)
        for n in np.flatnonzero((found >= self.vehicle.singles)).tolist():
            one, other = self.vehicle.made_of(int(worlds[n]))
            self.ask(np.array([one, other]))
            if not self.changing(one)[other]:
                found[n] = one
            elif not self.changing(other)[one]:
                found[n] = other
        return found

    def changing(self, base: int) -> Flags:
        """Which worlds change anything where a world ends that was asked for before."""
        if len(self._beside.get(base, ())) < (len(self.vehicle.worlds) if base == NOTHING else 1):
            end = End(self.states[base], self.volts[base], self.dark[base])
            self._beside[base] = self.settling.changing(end)
        return self._beside[base]

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

    def touches(self, base: int, worlds: Worlds) -> NDArray[np.bool_]:
        """Whether each world takes away what carries current in a base, or joins what has other volts there.

        What does neither changes nothing there beside what is wrong in the base.
        """
        carrying, volts, nodes = self._carrying(base), self.volts[base], self.vehicle.nodes
        edits = [self.vehicle.worlds[world].edit for world in worlds.tolist()]
        return np.array(
            [
                not edit.gone.isdisjoint(carrying)
                or any(
                    abs(volts[nodes[g.branch.a]] - volts[nodes[g.branch.b]]) > JOINS_VOLTS for g in edit.added
                )
                for edit in edits
            ],
            dtype=bool,
        )

    def _carrying(self, base: int) -> frozenset[int]:
        """The branches of the grid that carry current in a world."""
        self.ask(np.array([base]))
        state = self.states[base]
        closed = self.vehicle.grid.closed(self.settling.held | dict(state.hidden))
        volts = self.volts[base]
        return frozenset(i for i in closed if abs(self.moves.amps(base, i, volts)) > CARRIES_AMPS)

    @property
    def swinging(self) -> NDArray[np.bool_]:
        """The nodes at which a meter swings in the sound vehicle: a flasher beats, or a cam turns."""
        self.ask(np.array([NOTHING]))
        found: NDArray[np.bool_] = np.abs(self.volts[NOTHING] - self.dark[NOTHING]) > SWINGS_VOLTS
        return found
