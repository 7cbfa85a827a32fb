"""The share of its rated power that each load gets, in many worlds at once.

By what is meant to be fitted there, and with constant resistance, as the first view has it.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from planner.circuit.fitted import Guard, LoadKey
from planner.currents.curves import Array
from planner.currents.laws import Filament, Junction
from planner.testing.hunt.moves import Moves
from planner.testing.hunt.vehicle import Vehicle

Numbers = NDArray[np.intp]


class Powers:
    """The loads of one vehicle, a column each."""

    def __init__(self, vehicle: Vehicle, moves: Moves) -> None:
        self.vehicle = vehicle
        self.column: Mapping[LoadKey, int] = {key: n for n, key in enumerate(moves.loads)}
        gated = [vehicle.grid.branches[index] for index in moves.loads.values()]
        self._a = np.array([vehicle.nodes[g.branch.a] for g in gated], dtype=int)
        self._b = np.array([vehicle.nodes[g.branch.b] for g in gated], dtype=int)
        infos = [vehicle.net.loads[key] for key in moves.loads]
        laws = [g.branch.law for g in gated]
        self._is_junction = np.array([isinstance(law, Junction) for law in laws], dtype=bool)
        self.is_gauge = np.array([info.kind == "gauge" for info in infos], dtype=bool)
        self._drop_v = np.array([law.drop_v if isinstance(law, Junction) else 0.0 for law in laws])
        own = [law.ohms if isinstance(law, Junction) else i.ohms for law, i in zip(laws, infos, strict=True)]
        self._ohms, self._rated_amps = np.array(own), np.array([info.rated_amps for info in infos])
        self.guards: Mapping[int, Guard] = {n: g.guard for n, g in enumerate(gated) if g.guard}
        self._loads = {index: n for n, index in enumerate(moves.loads.values())}
        self._moves = moves
        self._left = np.zeros((0, len(gated)))  # of each load in each world: 0 where it is gone

    def of(self, volts: Array, worlds: Numbers) -> Array:
        """Shares of rated power; a row for each world and its volts, a column for each load."""
        across = volts[:, self._a] - volts[:, self._b]
        across = np.where(self._is_junction, np.maximum(across - self._drop_v, 0.0), across)
        share: Array = (across / self._ohms / self._rated_amps) ** 2
        return share * self._fitted()[worlds]

    def _fitted(self) -> Array:
        """What of each load is left in each world: 0 where it is gone, more or less with another lamp."""
        done, count = self._left.shape
        if done < len(self.vehicle.worlds):
            more = np.ones((len(self.vehicle.worlds) - done, count))
            for row, world in enumerate(self.vehicle.worlds[done:]):
                for index in world.edit.gone & self._loads.keys():
                    more[row, self._loads[index]] = self._share_left(done + row, index)
            self._left = np.concatenate((self._left, more))
        return self._left

    def _share_left(self, world: int, index: int) -> float:
        law = self.vehicle.grid.branches[index].branch.law
        other = self._moves.branch(world, index)
        if other is None:
            return 0.0
        if isinstance(other.law, Filament) and isinstance(law, Filament):
            return other.law.rated_amps / law.rated_amps
        return 1.0
