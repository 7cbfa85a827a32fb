"""Equal start states of two looms, and which of them need saying.

A start is named by what remembers: steps, cams, and armatures. Where a control has just been moved, a step or
cam may go on from its start; a state in which it has already gone on says nothing more and is left out
beside it. Armatures follow from the rest unless they hold themselves; they are named only where the outcome
depends on them.
"""

from collections.abc import Iterator, Mapping

from planner.circuit.network import Variable
from planner.proof.align import JointSetting
from planner.proof.behaviour import Behaviour, Start, View
from planner.proof.facts import LASTING

Row = tuple[str, ...]
Pair = tuple[Start | None, Start | None, Row]


class StartPairs:
    """Pairs the start states of two views."""

    def __init__(self, before: View, after: View) -> None:
        self.before, self.after = before, after
        self._variables: dict[tuple[bool, tuple[int, ...]], tuple[Variable, ...]] = {}

    def memories_of(self, old: Behaviour | None, new: Behaviour | None) -> tuple[str, ...]:
        """Hidden variables that a start state is named by, steps and cams first; beats start at rest."""
        kinds: dict[str, str] = {}
        for view, behaviour in ((self.before, old), (self.after, new)):
            for variable in behaviour.group.hidden if behaviour else ():
                name = view.label_of(variable)
                kinds[name] = view.net.variables[name].kind
        named = [name for name, kind in kinds.items() if kind != "beat"]
        return tuple(sorted(named, key=lambda name: (kinds[name] not in LASTING, name)))

    def lasting(self, memories: tuple[str, ...]) -> int:
        """How many of the memories, from the first, are steps and cams."""
        kinds = [
            (self.after.net.variables.get(name) or self.before.net.variables[name]).kind for name in memories
        ]
        return sum(1 for kind in kinds if kind in LASTING)

    def pairs(
        self,
        setting: JointSetting,
        old: Behaviour | None,
        new: Behaviour | None,
        memories: tuple[str, ...],
    ) -> Iterator[Pair]:
        """Yield old start, new start, and their labels in the order of ``memories``.

        Of the starts with equal steps and cams, those from which one of them moves tell all; where none
        moves, every start is told.
        """
        lasting = self.lasting(memories)
        groups: dict[Row, tuple[list[Pair], list[Pair]]] = {}
        new_starts = self._named(self.after, new, setting.after)
        for start_old, was in self._named(self.before, old, setting.before):
            agreeing = [pair for pair in new_starts if self._agree(was, pair[1], lasting_only=True)]
            exact = [pair for pair in agreeing if self._agree(was, pair[1], lasting_only=False)]
            for start_new, now in exact or agreeing:
                both = was | now
                labels = tuple(both.get(name, "") for name in memories)
                moves = self.moves(self.before, setting.before, old, start_old) or self.moves(
                    self.after, setting.after, new, start_new
                )
                resting, moving = groups.setdefault(labels[:lasting], ([], []))
                (moving if moves else resting).append((start_old, start_new, labels))
        for resting, moving in groups.values():
            yield from moving or resting

    def _named(
        self, view: View, behaviour: Behaviour | None, setting: Mapping[int, int] | None
    ) -> list[tuple[Start | None, dict[str, str]]]:
        if behaviour is None or setting is None:
            return [(None, {})]
        return [(start, self._labels(view, behaviour, start)) for start in behaviour.starts(setting)]

    def _labels(self, view: View, behaviour: Behaviour, state: Start) -> dict[str, str]:
        hidden = self._hidden(view, behaviour)
        return {v.name: v.values[value] for v, value in zip(hidden, state, strict=True) if v.kind != "beat"}

    def _hidden(self, view: View, behaviour: Behaviour) -> tuple[Variable, ...]:
        """The variables that a start state of a behaviour is made of."""
        key = (view is self.after, behaviour.group.hidden)
        if key not in self._variables:
            self._variables[key] = tuple(view.net.variables[view.label_of(v)] for v in key[1])
        return self._variables[key]

    def _agree(self, was: Mapping[str, str], now: Mapping[str, str], *, lasting_only: bool) -> bool:
        return all(
            now.get(name, value) == value
            for name, value in was.items()
            if not lasting_only or self.before.net.variables[name].kind in LASTING
        )

    def moves(
        self,
        view: View,
        setting: Mapping[int, int] | None,
        behaviour: Behaviour | None,
        start: Start | None,
    ) -> bool:
        """Whether a step or cam ends elsewhere than it started."""
        if behaviour is None or setting is None or start is None:
            return False
        own = tuple(setting[c] for c in behaviour.group.controls)
        final = behaviour.group.final(own, start)
        if final.chatters or final.depends_on_order:
            return True
        lasting = [i for i, v in enumerate(self._hidden(view, behaviour)) if v.kind in LASTING]
        return any(state[index] != start[index] for state in final.states for index in lasting)
