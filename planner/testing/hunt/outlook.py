"""What each world foretells of anything that can be seen or read, worked out when it is asked for."""

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.circuit.fitted import LoadKey
from planner.currents.curves import Array
from planner.currents.grid import is_met
from planner.currents.laws import Filament, Junction, Resistance
from planner.currents.solver import Branch
from planner.model.loom import Wire
from planner.testing.hunt.dead import Dead
from planner.testing.hunt.moves import Moves, State
from planner.testing.hunt.settling import Setting, Settling
from planner.testing.hunt.vehicle import NOTHING, Vehicle

Worlds = NDArray[np.intp]
TEST_LAMP_WATTS = 5.0  # of a test lamp at the vehicle's volts; common practice, no source
# A wire is felt to be warm from here: what one crimp turns into heat, or the amps for each mm2 of copper.
CARRIES_AMPS = 0.02  # more than a meter or a leak takes
WARM_WATTS, WARM_AMPS_PER_MM2 = 2.0, 10.0  # common practice, no source


class Position:
    """One setting of the controls, with the volts of all nodes in the worlds that were asked for."""

    def __init__(self, vehicle: Vehicle, moves: Moves, setting: Setting) -> None:
        self.vehicle = vehicle
        self.settling = Settling(vehicle, moves, setting)
        self.states: dict[int, State] = {}
        self.volts, self.dark = (np.zeros((0, len(vehicle.nodes))) for _ in range(2))
        self.known = np.zeros(0, dtype=bool)

    def ask(self, worlds: Worlds) -> None:
        """Solve the worlds of these that were not asked for before."""
        missing = len(self.vehicle.worlds) - len(self.known)
        if missing:
            more = np.zeros((missing, self.volts.shape[1]))
            self.volts, self.dark = np.concatenate((self.volts, more)), np.concatenate((self.dark, more))
            self.known = np.concatenate((self.known, np.zeros(missing, dtype=bool)))
        wanted = worlds[~self.known[worlds]].tolist()
        for world, end in self.settling.settle(wanted).items() if wanted else ():
            self.states[world], self.volts[world], self.dark[world] = end
            self.known[world] = True

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

    @property
    def swinging(self) -> NDArray[np.bool_]:
        """The nodes at which a meter swings in the sound vehicle: a flasher beats, or a cam turns."""
        self.ask(np.array([NOTHING]))
        found: NDArray[np.bool_] = np.abs(self.volts[NOTHING] - self.dark[NOTHING]) > 0.5
        return found


class Outlook:
    """Everything that the worlds of one vehicle foretell; worked out once for each position and world."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle, self.moves = vehicle, Moves(vehicle)
        self.dead = Dead(vehicle)
        self._positions: dict[Setting, Position] = {}
        self._without: dict[int, list[int]] = {}  # by a branch of the grid, the worlds in which it is gone
        self._sorted_in = 0

    def position(self, setting: Setting) -> Position:
        """One setting of the controls."""
        if setting not in self._positions:
            self._positions[setting] = Position(self.vehicle, self.moves, setting)
        return self._positions[setting]

    def is_solved(self, setting: Setting) -> bool:
        """Whether a position was looked at before."""
        return setting in self._positions

    def volts(self, setting: Setting, at: str, to: str, worlds: Worlds) -> Array:
        """Volts from one address to another; an empty one is the battery's earthed post."""
        position = self.position(setting)
        position.ask(worlds)
        nodes = self.vehicle.nodes
        there = to or self.vehicle.grid.zero
        zero = np.zeros(len(worlds))
        one: Array = position.volts[worlds, nodes[at]] if at in nodes else zero
        other: Array = position.volts[worlds, nodes[there]] if there in nodes else zero
        return one - other

    def power(self, setting: Setting, load: LoadKey, worlds: Worlds, *, dark: bool = False) -> Array:
        """The share of its rated power that a load gets, by what is meant to be fitted there.

        With constant resistance, as the first view has it. ``dark``: in the dark half of a flasher's beat.
        """
        position = self.position(setting)
        position.ask(worlds)
        volts = position.dark if dark else position.volts
        index = self.moves.loads[load]
        gated, info = self.vehicle.grid.branches[index], self.vehicle.net.loads[load]
        law, nodes = gated.branch.law, self.vehicle.nodes
        across = np.abs(volts[worlds, nodes[gated.branch.a]] - volts[worlds, nodes[gated.branch.b]])
        if isinstance(law, Junction):
            signed = volts[worlds, nodes[gated.branch.a]] - volts[worlds, nodes[gated.branch.b]]
            amps = np.maximum(signed - law.drop_v, 0.0) / law.ohms
        else:
            amps = across / info.ohms
        share: Array = (amps / info.rated_amps) ** 2
        place = {world: n for n, world in enumerate(worlds.tolist())}
        for world in self._lacking(index):
            if world in place:
                other = self.moves.branch(world, index)
                now = other.law if other is not None else None
                if isinstance(now, Filament) and isinstance(law, Filament):
                    share[place[world]] *= now.rated_amps / law.rated_amps
                elif now is None:
                    share[place[world]] = 0.0
        if gated.guard:
            for world, n in place.items():
                if not is_met(gated.guard, position.settling.held | dict(position.states[world].hidden)):
                    share[n] = 0.0
        return share

    def _lacking(self, index: int) -> Sequence[int]:
        """The worlds in which a branch of the sound vehicle is gone."""
        for world in range(self._sorted_in, len(self.vehicle.worlds)):
            for gone in self.vehicle.worlds[world].edit.gone:
                self._without.setdefault(gone, []).append(world)
        self._sorted_in = len(self.vehicle.worlds)
        return self._without.get(index, ())

    def lamp(self, setting: Setting, at: str, to: str, worlds: Worlds) -> Array:
        """The share of its rated power that a test lamp gets between two addresses."""
        position = self.position(setting)
        position.ask(worlds)
        nodes, there = self.vehicle.nodes, to or self.vehicle.grid.zero
        if at not in nodes or there not in nodes:
            return np.zeros(len(worlds))
        rated = abs(self.vehicle.net.volts)
        probe = Branch(("test lamp",), at, there, Filament(rated, TEST_LAMP_WATTS / rated))
        found = position.settling.probed({int(w): position.states[int(w)] for w in worlds}, probe)
        across = np.array([found[int(w)][nodes[at]] - found[int(w)][nodes[there]] for w in worlds])
        share: Array = (across / rated) ** 2
        return share

    def is_blown(self, setting: Setting, fuse: int, worlds: Worlds) -> NDArray[np.bool_]:
        """Whether a fuse, told by its branch, is blown or blows there."""
        position = self.position(setting)
        position.ask(worlds)
        gone = set(self._lacking(fuse))
        return np.array([w in gone or fuse in position.states[w].blown for w in worlds.tolist()], dtype=bool)

    def warmth(self, setting: Setting, wire: Wire, worlds: Worlds) -> Array:
        """What the worst leg of a wire turns into heat, as a share of what is felt to be warm."""
        position = self.position(setting)
        position.ask(worlds)
        worst = np.zeros(len(worlds))
        for leg in range(len(wire.ends) - 1):
            index = self.vehicle.editor.by_name["wire", wire.wire, str(leg)]
            for n, world in enumerate(worlds.tolist()):
                branch = self.moves.branch(world, index)
                if branch is None or not {branch.a, branch.b} <= self.vehicle.nodes.keys():
                    continue
                across = self.moves.across(world, index, position.volts[world])
                law = branch.law
                assert isinstance(law, Resistance)
                amps = abs(across) / law.ohms
                felt = max(amps * abs(across) / WARM_WATTS, amps / wire.leg_mm2(leg) / WARM_AMPS_PER_MM2)
                worst[n] = max(worst[n], felt)
        return worst
