"""What each world foretells of anything that can be seen or read, worked out when it is asked for."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.circuit.fitted import LoadKey
from planner.currents.curves import Array
from planner.currents.laws import Filament, Resistance
from planner.currents.solver import Branch
from planner.model.loom import Wire
from planner.testing.hunt.dead import Dead
from planner.testing.hunt.edits import Edits
from planner.testing.hunt.moves import Moves
from planner.testing.hunt.per_world import PerWorld, Worlds
from planner.testing.hunt.position import Position
from planner.testing.hunt.powers import Powers
from planner.testing.hunt.settling import Settling
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.sound import Sound
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.meter import TEST_LAMP_WATTS

# A wire is felt to be warm from here: what one crimp turns into heat, or the amps for each mm2 of copper.
WARM_WATTS, WARM_AMPS_PER_MM2 = 2.0, 10.0  # common practice, no source


class Outlook:
    """Everything that the worlds of one vehicle foretell; worked out once for each position and world."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle, self.moves = vehicle, Moves(vehicle)
        self.loads = Powers(vehicle, self.moves)
        self.dead, self.sound, self._edits = Dead(vehicle), Sound(self.moves), Edits(vehicle)
        self._positions: dict[Setting, Position] = {}
        self._lamps: dict[tuple[Setting, str, str], PerWorld] = {}
        self._without: dict[int, list[int]] = {}  # by a branch of the grid, the worlds in which it is gone
        self._sorted_in = 0

    def position(self, setting: Setting) -> Position:
        """One setting of the controls."""
        if setting not in self._positions:
            settling = Settling(self.sound, self._edits, setting)
            self._positions[setting] = Position(settling, self.loads)
        return self._positions[setting]

    def is_solved(self, setting: Setting) -> bool:
        """Whether some world was asked about in a position before."""
        return setting in self._positions and self._positions[setting].is_asked

    def volts(self, setting: Setting, at: str, to: str, worlds: Worlds) -> Array:
        """Volts from one address to another; an empty one is the battery's earthed post."""
        nodes, there = self.vehicle.nodes, to or self.vehicle.grid.zero
        found = np.zeros(len(worlds))
        for address, sign in ((at, 1.0), (there, -1.0)):
            if address in nodes:
                volts = self.position(setting).volts(worlds, np.array([nodes[address]]))
                found += sign * volts[:, 0]
        return found

    def powers(
        self, setting: Setting, worlds: Worlds, columns: NDArray[np.intp], *, dark: bool = False
    ) -> Array:
        """The share of its rated power that each load gets, the loads told by their columns.

        ``dark``: in the dark half of a flasher's beat.
        """
        return self.position(setting).power(worlds, columns, dark=dark)

    def power(self, setting: Setting, load: LoadKey, worlds: Worlds) -> Array:
        """The share of its rated power that one load gets."""
        found: Array = self.powers(setting, worlds, np.array([self.loads.column[load]]))[:, 0]
        return found

    def _lacking(self, index: int) -> Sequence[int]:
        """The worlds in which a branch of the sound vehicle is gone."""
        for world in range(self._sorted_in, len(self.vehicle.worlds)):
            for gone in self.vehicle.worlds[world].edit.gone:
                self._without.setdefault(gone, []).append(world)
        self._sorted_in = len(self.vehicle.worlds)
        return self._without.get(index, ())

    def lamp(self, setting: Setting, at: str, to: str, worlds: Worlds) -> Array:
        """The share of its rated power that a test lamp gets between two addresses."""
        key = setting, at, to or self.vehicle.grid.zero
        if key not in self._lamps:
            self._lamps[key] = PerWorld(lambda some: self._lamp(*key, some))
        return self._lamps[key][worlds]

    def _lamp(self, setting: Setting, at: str, to: str, worlds: Worlds) -> Array:
        position = self.position(setting)
        position.ask(worlds)
        nodes = self.vehicle.nodes
        if at not in nodes or to not in nodes:
            return np.zeros(len(worlds))
        rated = abs(self.vehicle.net.volts)
        probe = Branch(("test lamp",), at, to, Filament(rated, TEST_LAMP_WATTS / rated))
        found = position.settling.probed({int(w): position.states[int(w)] for w in worlds}, probe)
        across = np.array([found[int(w)][nodes[at]] - found[int(w)][nodes[to]] for w in worlds])
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
                across = self.moves.across(world, index, position.all_volts(world))
                law = branch.law
                assert isinstance(law, Resistance)
                amps = abs(across) / law.ohms
                felt = max(amps * abs(across) / WARM_WATTS, amps / wire.leg_mm2(leg) / WARM_AMPS_PER_MM2)
                worst[n] = max(worst[n], felt)
        return worst
