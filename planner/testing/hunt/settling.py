"""Where each world comes to rest in one position of the controls, with the volts of all its nodes.

Every world starts from rest with the controls set, and with sound fuses in. It is tried first where the
sound vehicle ends; what would move there is followed from rest on.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from planner.currents.curves import Array
from planner.currents.grid import Gated
from planner.currents.laws import Emf
from planner.currents.solver import Branch, solve
from planner.testing.hunt.moves import Moves, State
from planner.testing.hunt.networks import FEW, Seen
from planner.testing.hunt.ports import Difference, Ports
from planner.testing.hunt.vehicle import NOTHING, Vehicle
from planner.testing.hunt.watch import Watch

MOST_MOVES = 24  # of relays, cams, flashers and fuses one after another, before a world is left as it is
STILL_VOLTS = 1e-3  # a node with less is dead, and two nodes with less between them may be joined
STILL_AMPS = 1e-4  # a dead branch with less may go
Setting = tuple[tuple[str, str], ...]  # the variables that are not at rest, sorted
Hidden = tuple[tuple[str, str], ...]


class End(NamedTuple):
    """How a world ends: its state, its volts, and those in the dark half of a flasher's beat."""

    state: State
    volts: Array
    dark: Array


class Settling:
    """Follows the worlds of one vehicle in one position of its controls."""

    def __init__(self, vehicle: Vehicle, moves: Moves, setting: Setting) -> None:
        self.vehicle, self.moves, self.watch = vehicle, moves, Watch(moves)
        hidden, variables = set(vehicle.net.hidden), vehicle.net.variables
        self.held = {name: v.values[0] for name, v in variables.items() if name not in hidden} | dict(setting)
        self.rest = State(
            tuple((n, variables[n].values[0]) for n in vehicle.net.hidden if n not in self.held)
        )
        self._networks: dict[Hidden, Seen] = {}
        self.turns: list[tuple[State, State]] = []  # where the sound vehicle turns a cam, and what follows
        self.sound = self._from_rest([NOTHING])[0][NOTHING]

    def settle(self, worlds: Sequence[int]) -> dict[int, End]:
        """How each world ends."""
        ends = dict.fromkeys(worlds, self.sound)
        still = self._network(self.sound.hidden, FEW + 1).ports.whole
        volts = self._volts(ends)
        differing = [world for world in worlds if volts[world] is not still]
        moving = {w for w, state in self._next(differing, self.sound, volts, follow=False).items() if state}
        # Where a cam was turned out of its rest, what is there at its rest may keep it from turning.
        for state, then in self.turns:
            left = [world for world in differing if world not in moving]
            nexts = self._next(left, state, self._volts(dict.fromkeys(left, state)))
            moving |= {world for world, own in nexts.items() if own != then}
        if moving:
            again, there = self._from_rest(sorted(moving))
            ends |= again
            volts |= there
        beating = {world: state.dark() for world, state in ends.items() if state.beating}
        dark = volts | self._volts(beating)
        return {world: End(ends[world], volts[world], dark[world]) for world in worlds}

    def _next(
        self, worlds: Sequence[int], state: State, volts: Mapping[int, Array], *, follow: bool = True
    ) -> dict[int, State | None]:
        """What each world does next in one state."""
        found: dict[int, State | None] = dict.fromkeys(worlds)
        if worlds:
            stays = self.watch.stays(state, np.array([volts[w] for w in worlds]), worlds, follow=follow)
            for world in (world for world, is_quiet in zip(worlds, stays, strict=True) if not is_quiet):
                found[world] = self.moves.next(world, state, volts[world], follow=follow)
        return found

    def _from_rest(self, worlds: Sequence[int]) -> tuple[dict[int, State], dict[int, Array]]:
        """Follow worlds from rest until nothing moves any more: their states, and their volts there."""
        states = dict.fromkeys(worlds, self.rest)
        left, volts = list(worlds), dict[int, Array]()
        for _ in range(MOST_MOVES):
            volts |= self._volts({world: states[world] for world in left})
            moved: dict[int, State | None] = {}
            for state in dict.fromkeys(states[world] for world in left):
                moved |= self._next([world for world in left if states[world] == state], state, volts)
            if worlds == [NOTHING]:
                self._note_turn(states[NOTHING], moved[NOTHING])
            states |= {world: state for world, state in moved.items() if state is not None}
            left = [world for world, state in moved.items() if state is not None]
            if not left:
                return states, volts
        return states, volts | self._volts({world: states[world] for world in left})

    def _note_turn(self, state: State, then: State | None) -> None:
        """Keep where the sound vehicle turns a cam out of its rest."""
        cams = self.vehicle.net.cams
        if then is not None and any(dict(state.hidden).get(c) != dict(then.hidden).get(c) for c in cams):
            self.turns.append((state, then))

    def probed(self, states: Mapping[int, State], probe: Branch) -> dict[int, Array]:
        """The volts of worlds in some states with one more branch in each: a test lamp."""
        return self._volts(states, (probe,))

    def _volts(self, states: Mapping[int, State], probe: tuple[Branch, ...] = ()) -> dict[int, Array]:
        """The volts of worlds, each in its state; those in one state are solved together."""
        found: dict[int, Array] = {}
        groups: dict[Hidden, list[int]] = {}
        for world, state in states.items():
            groups.setdefault(state.hidden, []).append(world)
        for hidden, worlds in groups.items():
            network = self._network(hidden, len(worlds))
            differences = {w: self._difference(w, states[w], network, probe) for w in worlds}
            still = {world for world in worlds if _is_still(network.ports, differences[world])}
            found |= dict.fromkeys(still, network.ports.whole)
            differing = [world for world in worlds if world not in still]
            volts, settled = network.ports.volts([differences[world] for world in differing])
            for row, world in enumerate(differing):
                found[world] = volts[row] if settled[row] else self._alone(network.ports, differences[world])
        return found

    def _network(self, hidden: Hidden, count: int) -> Seen:
        """The sound network in a state, for so many worlds."""
        seen = self._networks.get(hidden)
        if seen is None or (count > FEW and not seen.is_own):
            closed = self.vehicle.grid.closed(self.held | dict(hidden))
            seen = self._networks[hidden] = self.vehicle.networks.of(closed, count)
        return seen

    def _difference(self, world: int, state: State, network: Seen, probe: tuple[Branch, ...]) -> Difference:
        edit, branches = self.vehicle.worlds[world].edit, self.vehicle.grid.branches
        lost = edit.gone | state.blown
        gone = frozenset(network.place[n] for n in lost | network.gone if n in network.place)
        added = tuple(gated.branch for gated in edit.added if self._is_met(gated, state))
        added += tuple(branches[n].branch for n in network.added if n not in lost)
        return Difference(gone, added + probe)

    def _is_met(self, gated: Gated, state: State) -> bool:
        """Whether a branch that a world adds is there in a state."""
        if not gated.guard:
            return True
        position = self.held | dict(state.hidden)
        return all(position.get(variable, "") in values for variable, values in gated.guard)

    def _alone(self, ports: Ports, difference: Difference) -> Array:
        """One network solved by itself, for those that do not settle together with others."""
        branches = [b for n, b in enumerate(ports.branches) if n not in difference.gone]
        point = solve([*branches, *difference.added], self.vehicle.grid.zero)
        out = np.zeros(len(ports.nodes))
        for node, volts in point.volts.items():
            out[ports.nodes[node]] = volts
        return out


def _is_still(ports: Ports, difference: Difference) -> bool:
    """Whether a difference moves nothing: what goes is dead and carries nothing, what comes joins equals."""
    volts = ports.whole
    for n in difference.gone:
        branch = ports.branches[n]
        a, b = float(volts[ports.a[n]]), float(volts[ports.b[n]])
        if isinstance(branch.law, Emf) or max(abs(a), abs(b)) > STILL_VOLTS:
            return False
        if abs(branch.law.amps(a - b)) > STILL_AMPS:
            return False
    for branch in difference.added:
        a, b = float(volts[ports.nodes[branch.a]]), float(volts[ports.nodes[branch.b]])
        if isinstance(branch.law, Emf) or abs(a - b) > STILL_VOLTS or max(abs(a), abs(b)) > STILL_VOLTS:
            return False
    return True
