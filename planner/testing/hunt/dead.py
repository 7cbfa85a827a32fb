"""What an ohmmeter reads in each world with the battery off, everything at rest, fuses in or out."""

import numpy as np

from planner.currents.curves import Array
from planner.currents.laws import Emf
from planner.currents.ohmmeter import METER_OHMS, TEST_V, dead_branch
from planner.currents.solver import Branch, solve
from planner.model.observations import OPEN_OHMS
from planner.testing.hunt.edits import holds
from planner.testing.hunt.per_world import PerWorld, Worlds
from planner.testing.hunt.ports import Difference, Ports
from planner.testing.hunt.vehicle import Vehicle


class Dead:
    """The worlds of one vehicle without its sources: filaments cold, armatures released, controls at rest."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        self.position = {name: v.values[0] for name, v in vehicle.net.variables.items()}
        self._read: dict[tuple[str, str, bool], PerWorld] = {}
        self._networks: dict[bool, tuple[Ports, dict[int, int]]] = {}

    def _network(self, *, has_fuses_out: bool) -> tuple[Ports, dict[int, int]]:
        """What is joined in the sound vehicle, and where each branch of the grid stands in it."""
        if has_fuses_out not in self._networks:
            place: dict[int, int] = {}
            branches: list[Branch] = []
            for index in self.vehicle.grid.closed(self.position):
                branch = _as_found(self.vehicle.grid.branches[index].branch, has_fuses_out=has_fuses_out)
                if branch is not None:
                    place[index] = len(branches)
                    branches.append(branch)
            ports = Ports(self.vehicle.nodes, branches, self.vehicle.grid.zero)
            self._networks[has_fuses_out] = ports, place
        return self._networks[has_fuses_out]

    def ohms(self, at: str, to: str, worlds: Worlds, *, has_fuses_out: bool = False) -> Array:
        """Ohms between two addresses, an empty one the battery's earthed post; ``OPEN_OHMS`` at most."""
        key = at, to or self.vehicle.grid.zero, has_fuses_out
        if key not in self._read:
            self._read[key] = PerWorld(lambda some: self._ask(*key, some.tolist()))
        return self._read[key][worlds]

    def _ask(self, at: str, to: str, has_fuses_out: bool, worlds: list[int]) -> Array:
        nodes = self.vehicle.nodes
        if at not in nodes or to not in nodes:
            return np.full(len(worlds), OPEN_OHMS)
        ports, place = self._network(has_fuses_out=has_fuses_out)
        meter = Branch(("meter",), at, to, Emf(TEST_V, METER_OHMS))
        differences = []
        for world in worlds:
            edit = self.vehicle.worlds[world].edit
            gone = frozenset(place[n] for n in edit.gone if n in place)
            added = [
                dead
                for gated in edit.added
                if holds(gated.guard, self.position)
                and (dead := _as_found(gated.branch, has_fuses_out=has_fuses_out)) is not None
            ]
            differences.append(Difference(gone, (*added, meter)))
        volts, settled = ports.volts(differences)
        across = volts[:, nodes[at]] - volts[:, nodes[to]]
        for row in np.flatnonzero(~settled).tolist():
            kept = [b for n, b in enumerate(ports.branches) if n not in differences[row].gone]
            across[row] = solve([*kept, *differences[row].added], to).across(meter)
        amps = np.maximum((TEST_V - across) / METER_OHMS, TEST_V / OPEN_OHMS / 2)
        found: Array = np.clip(across / amps, 0.0, OPEN_OHMS)
        return found


def _as_found(branch: Branch, *, has_fuses_out: bool) -> Branch | None:
    """A branch as the meter finds it; None where it is open."""
    return None if has_fuses_out and branch.name[0] == "fuse" else dead_branch(branch)
