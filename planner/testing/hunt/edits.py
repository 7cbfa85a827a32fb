"""Which of all worlds change anything beside the sound vehicle at some volts, asked of all at once.

A world changes nothing where all that it takes away is dead and carries nothing, and all that it adds joins
what is dead.
"""

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from planner.circuit.fitted import Guard
from planner.currents.curves import Array
from planner.currents.grid import Position
from planner.currents.laws import Emf
from planner.testing.hunt.port_laws import PortLaws
from planner.testing.hunt.vehicle import Vehicle

STILL_VOLTS = 1e-3  # a node with less is dead, and two nodes with less between them may be joined
STILL_AMPS = 1e-4  # a dead branch with less may go
Flags = NDArray[np.bool_]
Numbers = NDArray[np.intp]


class Edits:
    """What the worlds of one vehicle take away and add, as flat tables: a row for each branch of a world."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        branches = [gated.branch for gated in vehicle.grid.branches]
        self._a, self._b = self._nodes(b.a for b in branches), self._nodes(b.b for b in branches)
        self._laws = PortLaws.of([branch.law for branch in branches])
        self._pushes = np.array([isinstance(branch.law, Emf) for branch in branches], dtype=bool)
        self._guards: dict[Guard, int] = {}
        self._count = 0  # worlds that stand in the tables
        self._gone = np.zeros((0, 2), dtype=int)  # world, branch of the grid
        self._added = np.zeros((0, 5), dtype=int)  # world, its two nodes, its guard, whether it is a source

    def _nodes(self, names: Iterable[str]) -> Numbers:
        return np.array([self.vehicle.nodes[name] for name in names], dtype=int)

    def changing(self, closed: Sequence[int], volts: Array, position: Position) -> Flags:
        """Which worlds change something where the sound vehicle has some branches, volts and variables."""
        self._take_in()
        across, size = volts[self._a] - volts[self._b], np.abs(volts)
        moved = self._pushes | (np.maximum(size[self._a], size[self._b]) > STILL_VOLTS)
        moved |= np.abs(self._laws.at(across[None])[0][0]) > STILL_AMPS
        is_there = np.zeros(len(moved), dtype=bool)
        is_there[closed] = True
        found = np.zeros(self._count, dtype=bool)
        world, branch = self._gone.T
        found[world[(moved & is_there)[branch]]] = True
        world, a, b, guard, pushes = self._added.T
        met = np.array([holds(guard, position) for guard in self._guards], dtype=bool)
        live = (pushes > 0) | (np.maximum(size[a], size[b]) > STILL_VOLTS)
        found[world[live & met[guard]]] = True
        return found

    def _take_in(self) -> None:
        """Put the worlds into the tables that were made since."""
        gone: list[tuple[int, int]] = []
        added: list[tuple[int, int, int, int, int]] = []
        nodes = self.vehicle.nodes
        for world, own in enumerate(self.vehicle.worlds[self._count :], self._count):
            gone += [(world, index) for index in own.edit.gone]
            for gated in own.edit.added:
                a, b = nodes[gated.branch.a], nodes[gated.branch.b]
                guard = self._guards.setdefault(gated.guard, len(self._guards))
                added.append((world, a, b, guard, int(isinstance(gated.branch.law, Emf))))
        self._count = len(self.vehicle.worlds)
        self._gone = np.concatenate((self._gone, np.array(gone, dtype=int).reshape(-1, 2)))
        self._added = np.concatenate((self._added, np.array(added, dtype=int).reshape(-1, 5)))


def holds(guard: Guard, position: Position) -> bool:
    """Whether a guard holds in a position; never where it is about a part that is not there."""
    return all(position.get(variable, "") in values for variable, values in guard)
