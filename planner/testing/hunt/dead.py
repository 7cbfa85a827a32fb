"""What an ohmmeter reads in each world with the battery off, everything at rest, fuses in or out."""

from typing import NamedTuple

import numpy as np

from planner.currents.curves import Array
from planner.currents.grid import Gated
from planner.currents.ohmmeter import dead_branch
from planner.currents.solver import Branch
from planner.model.observations import OPEN_OHMS
from planner.testing.hunt.edits import Numbers, holds
from planner.testing.hunt.per_world import PerWorld, Worlds
from planner.testing.hunt.ports import Ports
from planner.testing.hunt.vehicle import Vehicle

# Of a branch that is gone so much is taken away: with all of it nothing may be left to divide by.
ALL_BUT = 1.0 - 1e-11


class Change(NamedTuple):
    """What a world changes of the dead network: the ends of some branches, and the siemens seen by them."""

    a: Numbers
    b: Numbers
    siemens: Array  # a square: the amps through each for each volt that there was across another


class Dead:
    """The worlds of one vehicle without its sources: filaments cold, armatures released, controls at rest.

    All that is left is straight, so a world is the sound network with what its own branches add.
    """

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        self.position = {name: v.values[0] for name, v in vehicle.net.variables.items()}
        self._read: dict[tuple[str, str, bool], PerWorld] = {}
        self._networks: dict[bool, Ports] = {}
        self._changes: dict[tuple[int, bool], Change] = {}

    def _network(self, *, has_fuses_out: bool) -> Ports:
        """What is joined in the sound vehicle."""
        if has_fuses_out not in self._networks:
            grid = self.vehicle.grid
            found = [self._as_found(grid.branches[i], has_fuses_out) for i in grid.closed(self.position)]
            branches = [branch for branch in found if branch is not None]
            self._networks[has_fuses_out] = Ports(self.vehicle.nodes, branches, grid.zero)
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
        ports = self._network(has_fuses_out=has_fuses_out)
        seen = (
            ports.ohms[nodes[at]] - ports.ohms[nodes[to]]
        )  # volts of each node for each ampere between them
        found = np.full(len(worlds), seen[nodes[at]] - seen[nodes[to]])
        sizes: dict[int, list[int]] = {}
        for n, world in enumerate(worlds):
            sizes.setdefault(len(self._change(world, has_fuses_out).a), []).append(n)
        for some in sizes.values():
            a, b, siemens = (
                np.array(own)
                for own in zip(*(self._change(worlds[n], has_fuses_out) for n in some), strict=True)
            )
            across = seen[a] - seen[b]
            found[some] -= np.einsum("np,npq,nq->n", across, siemens, across)
        # What hung on nothing and falls apart has some 10 megohm between; its last digit may be below zero.
        clipped: Array = np.where(found < -1.0, OPEN_OHMS, np.clip(found, 0.0, OPEN_OHMS))
        return clipped

    def _change(self, world: int, has_fuses_out: bool) -> Change:
        key = world, has_fuses_out
        if key not in self._changes:
            edit, grid = self.vehicle.worlds[world].edit, self.vehicle.grid
            gone = [grid.branches[index] for index in sorted(edit.gone)]
            signed = [(gated, -ALL_BUT) for gated in gone] + [(gated, 1.0) for gated in edit.added]
            met = [(g, sign) for g, sign in signed if holds(g.guard, self.position)]
            found = [(self._as_found(gated, has_fuses_out), sign) for gated, sign in met]
            branches = [(branch, sign) for branch, sign in found if branch is not None]
            nodes, ohms = self.vehicle.nodes, self._network(has_fuses_out=has_fuses_out).ohms
            a = np.array([nodes[branch.a] for branch, _ in branches], dtype=int)
            b = np.array([nodes[branch.b] for branch, _ in branches], dtype=int)
            own = np.diag([sign * branch.law.siemens(0.0) for branch, sign in branches])
            seen = ohms[a] - ohms[b]
            between = seen[:, a] - seen[:, b]
            self._changes[key] = Change(a, b, np.linalg.solve(np.eye(len(a)) + own @ between, own))
        return self._changes[key]

    @staticmethod
    def _as_found(gated: Gated, has_fuses_out: bool) -> Branch | None:
        """A branch as the meter finds it; None where it is open."""
        return None if has_fuses_out and gated.kind == "fuse" else dead_branch(gated.branch)
