"""The volts of worlds in states, many at once: those that are seen from one inverted network together."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import NamedTuple

import numpy as np

from planner.currents.curves import Array
from planner.currents.solver import Branch, solve
from planner.testing.hunt.edits import holds
from planner.testing.hunt.moves import State
from planner.testing.hunt.networks import FEW, Seen
from planner.testing.hunt.ports import Difference, Ports
from planner.testing.hunt.vehicle import Vehicle

Setting = tuple[tuple[str, str], ...]  # the variables that are not at rest, sorted
Hidden = tuple[tuple[str, str], ...]


class Case(NamedTuple):
    """A world in some state, with the controls in a setting."""

    setting: Setting
    world: int
    state: State


class Solving:
    """Solves the worlds of one vehicle."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle = vehicle
        self._networks: dict[tuple[Setting, Hidden], Seen] = {}
        self.held = cache(self._held)

    def _held(self, setting: Setting) -> Mapping[str, str]:
        """Where all controls and conditions are in a setting."""
        hidden, variables = set(self.vehicle.net.hidden), self.vehicle.net.variables
        return {name: v.values[0] for name, v in variables.items() if name not in hidden} | dict(setting)

    def rest(self, setting: Setting) -> State:
        """All that moves by itself at rest, but for what a setting holds elsewhere."""
        net, held = self.vehicle.net, self.held(setting)
        return State(tuple((n, net.variables[n].values[0]) for n in net.hidden if n not in held))

    def volts(self, cases: Sequence[Case], probe: tuple[Branch, ...] = ()) -> list[Array]:
        """The volts of all nodes in each case; ``probe`` is there besides, in each: a test lamp."""
        counts: dict[tuple[Setting, Hidden], int] = {}
        for case in cases:
            key = case.setting, case.state.hidden
            counts[key] = counts.get(key, 0) + 1
        networks = {key: self._network(*key, count) for key, count in counts.items()}
        alike: dict[Ports, list[int]] = {}
        differences: list[Difference] = []
        for n, case in enumerate(cases):
            network = networks[case.setting, case.state.hidden]
            differences.append(self._difference(case, network, probe))
            alike.setdefault(network.ports, []).append(n)
        found: list[Array] = [np.zeros(0)] * len(cases)
        for ports, numbers in alike.items():
            volts, settled = ports.volts([differences[n] for n in numbers])
            for row, n in enumerate(numbers):
                found[n] = volts[row] if settled[row] else self._alone(ports, differences[n])
        return found

    def _network(self, setting: Setting, hidden: Hidden, count: int) -> Seen:
        """The sound network in a state, for so many worlds."""
        seen = self._networks.get((setting, hidden))
        if seen is None or (count > FEW and not seen.is_own):
            closed = self.vehicle.grid.closed({**self.held(setting), **dict(hidden)})
            seen = self._networks[setting, hidden] = self.vehicle.networks.of(closed, count)
        return seen

    def _difference(self, case: Case, network: Seen, probe: tuple[Branch, ...]) -> Difference:
        edit, branches = self.vehicle.worlds[case.world].edit, self.vehicle.grid.branches
        lost = edit.gone | case.state.blown
        gone = frozenset(network.place[n] for n in lost | network.gone if n in network.place)
        added = [branches[n].branch for n in network.added if n not in lost]
        if any(gated.guard for gated in edit.added):
            position = {**self.held(case.setting), **dict(case.state.hidden)}
            added += [gated.branch for gated in edit.added if holds(gated.guard, position)]
        else:
            added += [gated.branch for gated in edit.added]
        return Difference(gone, (*added, *probe))

    def _alone(self, ports: Ports, difference: Difference) -> Array:
        """One network solved by itself, for those that do not settle together with others."""
        branches = [b for n, b in enumerate(ports.branches) if n not in difference.gone]
        point = solve([*branches, *difference.added], self.vehicle.grid.zero)
        out = np.zeros(len(ports.nodes))
        for node, volts in point.volts.items():
            out[ports.nodes[node]] = volts
        return out
