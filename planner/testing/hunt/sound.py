"""Where the sound vehicle comes to rest, followed in many settings of its controls together."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from planner.currents.curves import Array
from planner.testing.hunt.moves import Moves, State
from planner.testing.hunt.solving import Case, Setting, Solving
from planner.testing.hunt.vehicle import NOTHING
from planner.testing.hunt.watch import Watch

MOST_MOVES = 24  # of relays, cams, flashers and fuses one after another, before a world is left as it is


class End(NamedTuple):
    """How a world ends: its state, its volts, and those in the dark half of a flasher's beat."""

    state: State
    volts: Array
    dark: Array


@dataclass(frozen=True, slots=True)
class Followed:
    """How the sound vehicle ends in a setting; where it turns a cam on the way, and what follows there."""

    end: End
    turns: tuple[tuple[State, State], ...]


class Sound:
    """The sound vehicle, each setting followed from rest once."""

    def __init__(self, moves: Moves) -> None:
        self.moves, self.watch, self.solving = moves, Watch(moves), Solving(moves.vehicle)
        self._followed: dict[Setting, Followed] = {}

    def of(self, setting: Setting) -> Followed:
        """What it does in a setting."""
        self.follow([setting])
        return self._followed[setting]

    def follow(self, settings: Sequence[Setting]) -> None:
        """Follow it in those settings of these in which it was not followed yet."""
        states = {s: self.solving.rest(s) for s in settings if s not in self._followed}
        turns: dict[Setting, list[tuple[State, State]]] = {setting: [] for setting in states}
        volts: dict[Setting, Array] = {}
        left = list(states)
        for _ in range(MOST_MOVES):
            volts |= self._volts(left, states)
            moved = {s: self.moves.next(NOTHING, states[s], volts[s]) for s in left}
            left = [setting for setting, state in moved.items() if state is not None]
            if not left:
                break
            for setting in left:
                now, then = states[setting], moved[setting]
                assert then is not None
                if self._is_turned(now, then):
                    turns[setting].append((now, then))
                states[setting] = then
        volts |= self._volts(left, states)
        beating = {setting: state.dark() for setting, state in states.items() if state.beating}
        dark = volts | self._volts(list(beating), beating)
        for setting, state in states.items():
            end = End(state, volts[setting], dark[setting])
            self._followed[setting] = Followed(end, tuple(turns[setting]))

    def _volts(self, settings: Sequence[Setting], states: dict[Setting, State]) -> dict[Setting, Array]:
        cases = [Case(setting, NOTHING, states[setting]) for setting in settings]
        return dict(zip(settings, self.solving.volts(cases), strict=True))

    def _is_turned(self, now: State, then: State) -> bool:
        """Whether a cam is turned out of its rest."""
        one, other = dict(now.hidden), dict(then.hidden)
        return any(one.get(cam) != other.get(cam) for cam in self.moves.net.cams)
