"""Walks the states of a page as its script does, but in Python: it only looks things up."""

from collections.abc import Sequence

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
        for group in sorted({look.group for look in looks} - {NONE}):
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
        look = side_of(row, self.side)
        assert isinstance(look, Look)
        if look.group == NONE:
            return {self.states.words[self.find(look.word)]}
        return {self._way(look, row.kind, ending) for ending in self.endings[look.group]}

    def values(self, row: LiveRow) -> set[str]:
        """Every word that a row has in any state in which it may be now."""
        look = side_of(row, self.side)
        assert isinstance(look, Look)
        if look.group == NONE:
            return self.words(row)
        found = set()
        for state in (s for ending in self.endings[look.group] for end in ending.ends for s in end):
            self._put(look.group, state)
            found.add(self.states.words[self.find(look.word)])
        return found

    def _way(self, look: Look, kind: str, ending: Ending) -> str:
        ways = {self._end(look, kind, end, ending.chatters) for end in ending.ends}
        return ways.pop() if len(ways) == 1 else ORDER

    def _end(self, look: Look, kind: str, end: Sequence[tuple[int, ...]], chatters: bool) -> str:
        seen = set()
        for state in end:
            self._put(look.group, state)
            seen.add(self.states.words[self.find(look.word)])
        if len(seen) == 1:
            return seen.pop()
        if not kind:
            return "comes and goes"
        return "turns" if kind == "cam" else "chatters" if chatters else "flashes"
