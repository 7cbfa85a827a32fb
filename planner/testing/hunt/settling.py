"""Where each world comes to rest in one position of the controls, with the volts of all its nodes.

Every world starts from rest with the controls set, and with sound fuses in. It is tried first where the
sound vehicle ends; what would move there is followed from rest on.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np

from planner.currents.curves import Array
from planner.currents.grid import Gated
from planner.currents.solver import Branch, solve
from planner.testing.hunt.edits import Edits, Flags, holds
from planner.testing.hunt.moves import Moves, State
from planner.testing.hunt.networks import FEW, Seen
from planner.testing.hunt.ports import Difference, Ports
from planner.testing.hunt.vehicle import NOTHING, Vehicle
from planner.testing.hunt.watch import Watch

MOST_MOVES = 24  # of relays, cams, flashers and fuses one after another, before a world is left as it is
Setting = tuple[tuple[str, str], ...]  # the variables that are not at rest, sorted
Hidden = tuple[tuple[str, str], ...]


class End(NamedTuple):
    """How a world ends: its state, its volts, and those in the dark half of a flasher's beat."""

    state: State
    volts: Array
    dark: Array


class Settling:
    """Follows the worlds of one vehicle in one position of its controls."""

    def __init__(self, vehicle: Vehicle, moves: Moves, edits: Edits, setting: Setting) -> None:
        self.vehicle, self.moves, self.edits, self.watch = vehicle, moves, edits, Watch(moves)
        hidden, variables = set(vehicle.net.hidden), vehicle.net.variables
        self.held = {name: v.values[0] for name, v in variables.items() if name not in hidden} | dict(setting)
        self.rest = State(
            tuple((n, variables[n].values[0]) for n in vehicle.net.hidden if n not in self.held)
        )
        self._networks: dict[Hidden, Seen] = {}
        self.turns: list[tuple[State, State]] = []  # where the sound vehicle turns a cam, and what follows
        states, volts = self._from_rest([NOTHING])
        self.sound = states[NOTHING]
        dark = self._volts({NOTHING: self.sound.dark()})[NOTHING] if self.sound.beating else volts[NOTHING]
        self.sound_end = End(self.sound, volts[NOTHING], dark)

    def changing(self, end: End) -> Flags:
        """Which worlds change anything where some world ends, and in the dark half of a beat there."""
        found = self._changing(end.state.hidden, end.volts)
        if end.state.beating:
            found |= self._changing(end.state.dark().hidden, end.dark)
        return found

    def _changing(self, hidden: Hidden, volts: Array) -> Flags:
        position = self.held | dict(hidden)
        return self.edits.changing(self.vehicle.grid.closed(position), volts, position)

    def settle(self, worlds: Sequence[int]) -> dict[int, End]:
        """How each world ends; of those that change something where the sound vehicle does."""
        ends = dict.fromkeys(worlds, self.sound)
        volts = self._volts(ends)
        moving = {w for w, state in self._next(worlds, self.sound, volts, follow=False).items() if state}
        # Where a cam was turned out of its rest, what is there at its rest may keep it from turning.
        for state, then in self.turns:
            left = [world for world in worlds if world not in moving]
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
        """The volts of worlds, each in its state; those that are seen from one network are solved together."""
        groups: dict[Hidden, list[int]] = {}
        for world, state in states.items():
            groups.setdefault(state.hidden, []).append(world)
        seen: dict[Ports, dict[int, Difference]] = {}
        for hidden, worlds in groups.items():
            network = self._network(hidden, len(worlds))
            own = seen.setdefault(network.ports, {})
            own |= {w: self._difference(w, states[w], network, probe) for w in worlds}
        found: dict[int, Array] = {}
        for ports, differences in seen.items():
            volts, settled = ports.volts(list(differences.values()))
            for row, (world, difference) in enumerate(differences.items()):
                found[world] = volts[row] if settled[row] else self._alone(ports, difference)
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
        return not gated.guard or holds(gated.guard, self.held | dict(state.hidden))

    def _alone(self, ports: Ports, difference: Difference) -> Array:
        """One network solved by itself, for those that do not settle together with others."""
        branches = [b for n, b in enumerate(ports.branches) if n not in difference.gone]
        point = solve([*branches, *difference.added], self.vehicle.grid.zero)
        out = np.zeros(len(ports.nodes))
        for node, volts in point.volts.items():
            out[ports.nodes[node]] = volts
        return out
