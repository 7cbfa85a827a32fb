"""Where each world comes to rest in one position of the controls, with the volts of all its nodes.

Every world starts from rest with the controls set, and with sound fuses in. It is tried first where the
sound vehicle ends; what would move there is followed from rest on.
"""

from collections.abc import Mapping, Sequence

import numpy as np

from planner.currents.curves import Array
from planner.currents.solver import Branch
from planner.testing.hunt.edits import Edits, Flags
from planner.testing.hunt.moves import State
from planner.testing.hunt.solving import Case, Hidden, Setting
from planner.testing.hunt.sound import MOST_MOVES, End, Sound


class Settling:
    """Follows the worlds of one vehicle in one position of its controls."""

    def __init__(self, sound: Sound, edits: Edits, setting: Setting) -> None:
        self.setting, self.edits = setting, edits
        self.moves, self.solving, self.watch = sound.moves, sound.solving, sound.watch
        self.held = self.solving.held(setting)
        followed = sound.of(setting)
        self.sound, self.turns = followed.end, followed.turns

    def changing(self, end: End) -> Flags:
        """Which worlds change anything where some world ends, and in the dark half of a beat there."""
        found = self._changing(end.state.hidden, end.volts)
        if end.state.beating:
            found |= self._changing(end.state.dark().hidden, end.dark)
        return found

    def _changing(self, hidden: Hidden, volts: Array) -> Flags:
        position = {**self.held, **dict(hidden)}
        return self.edits.changing(self.moves.vehicle.grid.closed(position), volts, position)

    def settle(self, worlds: Sequence[int]) -> dict[int, End]:
        """How each world ends; of those that change something where the sound vehicle does."""
        sound = self.sound.state
        ends = dict.fromkeys(worlds, sound)
        volts = self._volts(ends)
        moving = {w for w, state in self._next(worlds, sound, volts, follow=False).items() if state}
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
        states = dict.fromkeys(worlds, self.solving.rest(self.setting))
        left, volts = list(worlds), dict[int, Array]()
        for _ in range(MOST_MOVES):
            volts |= self._volts({world: states[world] for world in left})
            moved: dict[int, State | None] = {}
            for state in dict.fromkeys(states[world] for world in left):
                moved |= self._next([world for world in left if states[world] == state], state, volts)
            states |= {world: state for world, state in moved.items() if state is not None}
            left = [world for world, state in moved.items() if state is not None]
            if not left:
                return states, volts
        return states, volts | self._volts({world: states[world] for world in left})

    def probed(self, states: Mapping[int, State], probe: Branch) -> dict[int, Array]:
        """The volts of worlds in some states with one more branch in each: a test lamp."""
        return self._volts(states, (probe,))

    def _volts(self, states: Mapping[int, State], probe: tuple[Branch, ...] = ()) -> dict[int, Array]:
        cases = [Case(self.setting, world, state) for world, state in states.items()]
        return dict(zip(states, self.solving.volts(cases, probe), strict=True))
