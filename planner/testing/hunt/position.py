"""One setting of the controls, and what every node has there in each world."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array
from planner.currents.grid import is_met
from planner.testing.hunt.edits import Flags, Numbers
from planner.testing.hunt.moves import State
from planner.testing.hunt.per_world import PerWorld, Worlds
from planner.testing.hunt.powers import Powers
from planner.testing.hunt.settling import Settling
from planner.testing.hunt.sound import End
from planner.testing.hunt.vehicle import NOTHING

CARRIES_AMPS = 0.02  # more than a meter or a leak takes
JOINS_VOLTS = 0.5  # what is joined with less between changes next to nothing
SWINGS_VOLTS = 0.5  # between the halves of a beat: from here on a meter's pointer swings


class Position:
    """One setting of the controls, with the volts of all nodes in the worlds that were asked for.

    Worlds in which all is alike share a row of volts; so do the halves of a beat where nothing beats.
    """

    def __init__(self, settling: Settling, powers: Powers) -> None:
        self.settling, self.powers, self.moves = settling, powers, settling.moves
        self.vehicle = self.moves.vehicle
        self.states: dict[int, State] = {}
        self._row, self._dark_row = (np.zeros(0, dtype=int) for _ in range(2))  # of each world; 0: not asked
        # A row each: the volts of all nodes, and the share of its rated power that each load gets.
        self._volts = np.zeros((1, len(self.vehicle.nodes)))
        self._light = np.zeros((1, len(powers.column)))
        self._count = 1
        self._beside: dict[int, Flags] = {}  # by a world, which others change anything there
        self.beats = PerWorld(self._beats)

    @property
    def is_asked(self) -> bool:
        """Whether some world was asked for."""
        return self._count > 1

    def volts(self, worlds: Worlds, nodes: Numbers) -> Array:
        """The volts of some nodes, a column each, in some worlds, a row each."""
        self.ask(worlds)
        found: Array = self._volts[self._row[worlds][:, None], nodes]
        return found

    def all_volts(self, world: int, *, dark: bool = False) -> Array:
        """The volts of all nodes in one world; ``dark``: in the dark half of a flasher's beat."""
        self.ask(np.array([world]))
        found: Array = self._volts[(self._dark_row if dark else self._row)[world]]
        return found

    def power(self, worlds: Worlds, columns: Numbers, *, dark: bool = False) -> Array:
        """The share of its rated power that each load gets, the loads told by their columns."""
        self.ask(worlds)
        found: Array = self._light[(self._dark_row if dark else self._row)[worlds][:, None], columns]
        return found

    def is_beating(self, worlds: Worlds) -> Flags:
        """In which worlds a flasher beats."""
        self.ask(worlds)
        found: Flags = self._row[worlds] != self._dark_row[worlds]
        return found

    def ask(self, worlds: Worlds) -> None:
        """Solve the worlds of these that were not asked for before."""
        more = len(self.vehicle.worlds) - len(self._row)
        if more > 0:
            self._row, self._dark_row = (np.pad(own, (0, more)) for own in (self._row, self._dark_row))
        wanted = worlds[self._row[worlds] == 0]
        if not wanted.size:
            return
        if not self._row[NOTHING]:
            self._put({NOTHING: self.settling.sound})
        bases = self._bases(wanted)
        unlike = wanted[(bases == wanted) & (self._row[wanted] == 0)]
        if unlike.size:
            self._put(self.settling.settle(unlike.tolist()))
        self._row[wanted], self._dark_row[wanted] = self._row[bases], self._dark_row[bases]
        self.states |= {w: self.states[base] for w, base in zip(wanted.tolist(), bases.tolist(), strict=True)}

    def _put(self, ends: Mapping[int, End]) -> None:
        """Take in how some worlds end."""
        self.states |= {world: end.state for world, end in ends.items()}
        worlds = np.array(list(ends), dtype=int)
        self._row[worlds] = self._dark_row[worlds] = self._add([end.volts for end in ends.values()], worlds)
        beating = {world: end.dark for world, end in ends.items() if end.state.beating}
        if beating:
            worlds = np.array(list(beating), dtype=int)
            self._dark_row[worlds] = self._add(list(beating.values()), worlds)

    def _add(self, volts: Sequence[Array], worlds: Worlds) -> Numbers:
        """Add rows for some worlds: their numbers."""
        rows = np.arange(self._count, self._count + len(worlds))
        self._count += len(worlds)
        if self._count > len(self._volts):
            room = max(self._count, 2 * len(self._volts)) - len(self._volts)
            self._volts, self._light = (
                np.pad(own, ((0, room), (0, 0))) for own in (self._volts, self._light)
            )
        self._volts[rows] = volts
        self._light[rows] = self._power(self._volts[rows], worlds)
        return rows

    def _bases(self, worlds: Worlds) -> Worlds:
        """For each world one in which all is as in it: without what changes nothing; or itself."""
        found = np.where(self.changing(NOTHING)[worlds], worlds, NOTHING)
        pairs = np.flatnonzero(found >= self.vehicle.singles)
        if pairs.size:
            made = np.array([self.vehicle.made_of(world) for world in worlds[pairs].tolist()])
            self.ask(np.unique(made))
            for n, (one, other) in zip(pairs.tolist(), made.tolist(), strict=True):
                if not self.changing(one)[other]:
                    found[n] = one
                elif not self.changing(other)[one]:
                    found[n] = other
        return found

    def changing(self, base: int) -> Flags:
        """Which worlds change anything where one ends that was asked for before, or the sound vehicle."""
        if len(self._beside.get(base, ())) < (len(self.vehicle.worlds) if base == NOTHING else 1):
            end = self.settling.sound
            if base != NOTHING:
                end = End(self.states[base], self.all_volts(base), self.all_volts(base, dark=True))
            self._beside[base] = self.settling.changing(end)
        return self._beside[base]

    def _power(self, volts: Array, worlds: Worlds) -> Array:
        """The share of rated power at the volts of each world; none where a guard is not met."""
        found = self.powers.of(volts, worlds)
        held = self.settling.held
        kinds = {self.states[world].hidden for world in worlds.tolist()} if self.powers.guards else ()
        for column, guard in self.powers.guards.items():
            met = {hidden: is_met(guard, {**held, **dict(hidden)}) for hidden in kinds}
            found[[not met[self.states[world].hidden] for world in worlds.tolist()], column] = 0.0
        return found

    def _beats(self, worlds: Worlds) -> Array:
        """The share of the sound current through the flasher; 1 where it beats whatever the lamps take."""
        return np.array([self._beat(world) for world in worlds.tolist()])

    def _beat(self, world: int) -> float:
        for name, index in self.moves.flashers.items():
            if not self.vehicle.net.beats[name].supply and name in self.settling.sound.state.beating:
                sound = abs(self.moves.amps(NOTHING, index, self.settling.sound.volts))
                return abs(self.moves.amps(world, index, self.all_volts(world))) / sound
        return 1.0

    def touches(self, base: int, worlds: Worlds) -> NDArray[np.bool_]:
        """Whether each world takes away what carries current in a base, or joins what has other volts there.

        What does neither changes nothing there beside what is wrong in the base.
        """
        carrying, volts, nodes = self._carrying(base), self.all_volts(base), self.vehicle.nodes
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
        volts, state = self.all_volts(base), self.states[base]
        closed = self.vehicle.grid.closed({**self.settling.held, **dict(state.hidden)})
        return frozenset(i for i in closed if abs(self.moves.amps(base, i, volts)) > CARRIES_AMPS)

    @property
    def swinging(self) -> Flags:
        """The nodes at which a meter swings in the sound vehicle: a flasher beats, or a cam turns."""
        end = self.settling.sound
        found: Flags = np.abs(end.volts - end.dark) > SWINGS_VOLTS
        return found
