"""Equal start states of two looms, and which of them need saying.

A start is named by what remembers: steps, cams, and armatures. A start that settles to the same memory in
both looms says nothing that the start it settles to does not say, so it is left out. Armatures follow from
the rest unless they hold themselves; they are named only where the outcome depends on them.
"""

from collections.abc import Iterator, Mapping

from planner.proof.align import JointSetting
from planner.proof.behaviour import Behaviour, Start, View

Row = tuple[str, ...]
Pair = tuple[Start | None, Start | None, Row]
LASTING = ("step", "cam")


class StartPairs:
    """Pairs the start states of two views."""

    def __init__(self, before: View, after: View) -> None:
        self.before, self.after = before, after

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
        *,
        moving: bool = False,
    ) -> Iterator[Pair]:
        """Yield old start, new start, and their labels in the order of ``memories``.

        With ``moving`` only starts from which a step or cam of either loom moves, and all of those.
        """
        old_starts = self._named(self.before, old, setting.before)
        new_starts = self._named(self.after, new, setting.after)
        for start_old, was in old_starts:
            agreeing = [pair for pair in new_starts if self._agree(was, pair[1], lasting_only=True)]
            exact = [pair for pair in agreeing if self._agree(was, pair[1], lasting_only=False)]
            for start_new, now in exact or agreeing:
                if moving:
                    is_told = self._moves(self.before, setting.before, old, start_old) or self._moves(
                        self.after, setting.after, new, start_new
                    )
                else:
                    is_told = not self._settles_elsewhere(setting, old, new, start_old, start_new)
                if is_told:
                    both = was | now
                    yield start_old, start_new, tuple(both.get(name, "") for name in memories)

    def _named(
        self, view: View, behaviour: Behaviour | None, setting: Mapping[int, int] | None
    ) -> list[tuple[Start | None, dict[str, str]]]:
        if behaviour is None or setting is None:
            return [(None, {})]
        return [(start, self._labels(view, behaviour, start)) for start in behaviour.starts(setting)]

    def _labels(self, view: View, behaviour: Behaviour, state: Start) -> dict[str, str]:
        out = {}
        for variable, value in zip(behaviour.group.hidden, state, strict=True):
            name = view.label_of(variable)
            entry = view.net.variables[name]
            if entry.kind != "beat":
                out[name] = entry.values[value]
        return out

    def _agree(self, was: Mapping[str, str], now: Mapping[str, str], *, lasting_only: bool) -> bool:
        return all(
            now.get(name, value) == value
            for name, value in was.items()
            if not lasting_only or self.before.net.variables[name].kind in LASTING
        )

    def _moves(
        self,
        view: View,
        setting: Mapping[int, int] | None,
        behaviour: Behaviour | None,
        start: Start | None,
    ) -> bool:
        """Whether a step or cam ends elsewhere than it started."""
        if behaviour is None or setting is None or start is None:
            return False
        lasting = [
            index
            for index, variable in enumerate(behaviour.group.hidden)
            if view.net.variables[view.label_of(variable)].kind in LASTING
        ]
        ends = self._ends(behaviour, setting, start)
        return not ends or any(end[index] != start[index] for end in ends for index in lasting)

    def _settles_elsewhere(
        self,
        setting: JointSetting,
        old: Behaviour | None,
        new: Behaviour | None,
        start_old: Start | None,
        start_new: Start | None,
    ) -> bool:
        """Whether both looms go from these starts to one and the same other memory, whose row says it all."""
        if old is None or new is None or start_old is None or start_new is None:
            return False
        if setting.before is None or setting.after is None:
            return False
        ends_old = self._ends(old, setting.before, start_old)
        ends_new = self._ends(new, setting.after, start_new)
        if len(ends_old) != 1 or len(ends_new) != 1:
            return False
        (end_old,), (end_new,) = ends_old, ends_new
        if end_old == start_old and end_new == start_new:
            return False
        shared = self._labels(self.before, old, end_old)
        return self._agree(shared, self._labels(self.after, new, end_new), lasting_only=False)

    @staticmethod
    def _ends(behaviour: Behaviour, setting: Mapping[int, int], start: Start) -> set[Start]:
        """States of the final set, beats at rest."""
        own = tuple(setting[c] for c in behaviour.group.controls)
        final = behaviour.group.final(own, start)
        if final.chatters or final.depends_on_order:
            return set()
        return {
            tuple(0 if index in behaviour.group.beats else value for index, value in enumerate(state))
            for state in final.states
        }
