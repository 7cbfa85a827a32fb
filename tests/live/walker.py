"""Walks the states of a page as its script does, but in Python: it only looks things up."""

from collections.abc import Iterable, Sequence
from itertools import product

from planner.model.page_states import NONE, Ending, LiveControl, LiveDetent, LiveRow, Look, PageStates

BEFORE, AFTER = 0, 1
ORDER = "depends on which pulls first"


def side_of(pair: "LiveControl | LiveDetent | LiveRow", side: int) -> object:
    """What a record has for one loom."""
    return pair.before if side == BEFORE else pair.after


class Walker:
    """One loom of a page, with its controls thrown one at a time."""

    def __init__(self, states: PageStates, side: int) -> None:
        self.states, self.side = states, side
        self.at = [0] * len(states.variables)
        rows = (*states.loads, *states.terminals, *states.wires, *states.alarms)
        looks = [look for row in rows if isinstance(look := side_of(row, side), Look)]
        self.endings: dict[int, list[Ending]] = {}
        self.starts: dict[int, list[tuple[int, ...]]] = {}
        for group in sorted({group for look in looks for group in look.groups}):
            self._settle(group, [tuple(0 for _ in states.groups[group].hidden)])

    def find(self, reference: int) -> int:
        """The answer that a reference leads to."""
        while reference >= 0:
            variable, *children = self.states.nodes[reference]
            reference = children[self.at[variable]]
        return -1 - reference

    def throw(self, control: LiveControl, detent: LiveDetent) -> None:
        """Put a control into a position, if this loom has it."""
        variable, value = side_of(control, self.side), side_of(detent, self.side)
        assert isinstance(variable, int) and isinstance(value, int)
        if NONE in (variable, value) or self.at[variable] == value:
            return
        self.at[variable] = value
        for number, endings in list(self.endings.items()):
            group = self.states.groups[number]
            if variable in group.controls:
                starts = {
                    tuple(0 if rests else s for s, rests in zip(state, group.resting, strict=True))
                    for ending in endings
                    for end in ending.ends
                    for state in end
                }
                self._settle(number, sorted(starts))

    def _settle(self, number: int, starts: Sequence[tuple[int, ...]]) -> None:
        group = self.states.groups[number]
        found: list[Ending] = []
        self.starts[number] = list(starts)
        for start in starts:
            self._put(number, start)
            ending = self.states.endings[self.find(group.ending)]
            if ending not in found:
                found.append(ending)
        self.endings[number] = found

    def _put(self, number: int, state: Sequence[int]) -> None:
        for variable, value in zip(self.states.groups[number].hidden, state, strict=True):
            self.at[variable] = value

    def words(self, row: LiveRow) -> set[str]:
        """How a row looks: one way, or as many as it may be, by what happened on the way."""
        look = self._look(row)
        return {self._way(look, row.kind, ways) for ways in product(*(self.endings[g] for g in look.groups))}

    def values(self, row: LiveRow) -> set[str]:
        """Every word that a row has in any state in which it may be now."""
        look = self._look(row)
        each = ([s for e in self.endings[g] for end in e.ends for s in end] for g in look.groups)
        return self._seen(look, each)

    def sounds(self, row: LiveRow) -> bool:
        """Whether an alarm sounds now, or did for a moment after the last throw."""
        look = self._look(row)
        for endings in product(*(self.endings[g] for g in look.groups)):
            each = ([*(s for end in e.ends for s in end), *e.passed] for e in endings)
            if "there" in self._seen(look, each):
                return True
        return False

    def _look(self, row: LiveRow) -> Look:
        look = side_of(row, self.side)
        assert isinstance(look, Look)
        return look

    def _way(self, look: Look, kind: str, endings: Sequence[Ending]) -> str:
        chatters = any(ending.chatters for ending in endings)
        ways = {self._end(look, kind, ends, chatters) for ends in product(*(e.ends for e in endings))}
        return ways.pop() if len(ways) == 1 else ORDER

    def _end(self, look: Look, kind: str, ends: Iterable[Sequence[tuple[int, ...]]], chatters: bool) -> str:
        seen = self._seen(look, ends)
        if len(seen) == 1:
            return seen.pop()
        if not kind:
            return "comes and goes"
        return "turns" if kind == "cam" else "chatters" if chatters else "flashes"

    def _seen(self, look: Look, each: Iterable[Sequence[tuple[int, ...]]]) -> set[str]:
        seen = set()
        for states in product(*each):
            for group, state in zip(look.groups, states, strict=True):
                self._put(group, state)
            seen.add(self.states.words[self.find(look.word)])
        return seen
