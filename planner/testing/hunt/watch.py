"""Which of many worlds surely stay in a state: asked of all at once, before each is followed by itself."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.circuit.appearance import RUNS_FROM
from planner.currents.curves import Array
from planner.testing.hunt.moves import Moves, State
from planner.testing.hunt.port_laws import PortLaws


class Watch:
    """The branches of one vehicle by which something moves: fuses, coils, motors and flashers."""

    def __init__(self, moves: Moves) -> None:
        self.moves, self.net = moves, moves.net
        wanted = dict.fromkeys((*moves.fuses, *moves.loads.values(), *moves.flashers.values()))
        self.column = {index: n for n, index in enumerate(wanted)}
        branches = [moves.branches[index].branch for index in wanted]
        self._a = np.array([moves.nodes[branch.a] for branch in branches], dtype=int)
        self._b = np.array([moves.nodes[branch.b] for branch in branches], dtype=int)
        self._laws = PortLaws.of([branch.law for branch in branches])
        self._fuses = np.array([self.column[index] for index in moves.fuses], dtype=int)
        self._most = np.array(list(moves.fuses.values()))

    def stays(self, state: State, volts: Array, worlds: Sequence[int], *, follow: bool) -> NDArray[np.bool_]:
        """Whether nothing moves, at the volts of each world (a row); never where its edit has to do with it.

        ``follow`` as in ``Moves.next``: a world of which this says no may still stay.
        """
        across = volts[:, self._a] - volts[:, self._b]
        amps = self._laws.at(across)[0]
        moves = self._blows(state, amps) | self._pulls(state, across, follow=follow)
        moves |= self._turns(state, amps) | self._beats(state, amps, volts)
        edits = (self.moves.vehicle.worlds[world].edit for world in worlds)
        own = np.array([not self.column.keys().isdisjoint(edit.gone) for edit in edits], dtype=bool)
        found: NDArray[np.bool_] = ~(moves | own)
        return found

    def _blows(self, state: State, amps: Array) -> NDArray[np.bool_]:
        whole = np.array([index not in state.blown for index in self.moves.fuses], dtype=bool)
        found: NDArray[np.bool_] = np.logical_or.reduce(
            (np.abs(amps[:, self._fuses]) > self._most)[:, whole], axis=1
        )
        return found

    def _pulls(self, state: State, across: Array, *, follow: bool) -> NDArray[np.bool_]:
        found: NDArray[np.bool_] = np.zeros(len(across), dtype=bool)
        hidden = dict(state.hidden)
        for name, law in self.net.armatures.items():
            size: Array = np.zeros(len(across))
            if law.load in self.moves.loads:
                size = np.abs(across[:, self.column[self.moves.loads[law.load]]])
            if hidden[name] == "released":
                found = found | (size >= law.pulls_in_v)
            else:
                found = found | (size < (law.drops_out_v if follow else law.pulls_in_v))
        return found

    def _turns(self, state: State, amps: Array) -> NDArray[np.bool_]:
        found: NDArray[np.bool_] = np.zeros(len(amps), dtype=bool)
        hidden = dict(state.hidden)
        for name, cam in self.net.cams.items():
            if name in hidden and (
                hidden[name] != self.net.variables[name].values[-1] or name not in state.turning
            ):
                for load in cam.loads:
                    share = amps[:, self.column[self.moves.loads[load]]] / self.net.loads[load].rated_amps
                    found |= share**2 >= RUNS_FROM
        return found

    def _beats(self, state: State, amps: Array, volts: Array) -> NDArray[np.bool_]:
        found: NDArray[np.bool_] = np.zeros(len(amps), dtype=bool)
        nodes = self.moves.nodes
        for name, beat in self.net.beats.items():
            if name not in state.tried:
                found[:] = True
            elif name in state.beating:
                enough = np.abs(amps[:, self.column[self.moves.flashers[name]]]) >= beat.needs_amps
                if beat.supply:
                    live, back = (volts[:, nodes[node]] for node in beat.supply)
                    enough &= np.abs(live - back) > abs(self.net.volts) / 2
                found |= ~enough
        return found
