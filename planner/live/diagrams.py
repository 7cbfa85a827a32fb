"""Functions of the proof, written down as one shared table of nodes."""

from collections.abc import Hashable, Iterable, Mapping, Sequence

from planner.circuit.hidden_group import Group
from planner.circuit.tree import Function, Projector
from planner.model.page_states import Ending, State


class Diagrams:
    """The table as it grows; equal functions have one reference."""

    def __init__(self) -> None:
        self.nodes: list[tuple[int, ...]] = []
        self._known: dict[tuple[int, ...], int] = {}
        self._done: dict[int, int] = {}
        self._alive: list[Function] = []  # an id is only good while its object lives
        self._numbers: dict[int, int] = {}  # of a variable in the proof: its place in the table
        self.variables: list[int] = []
        self.words: list[str] = []
        self.endings: list[Ending] = []
        self._answers: dict[Hashable, int] = {}

    def variable(self, number: int) -> int:
        """The place of a variable of the proof."""
        if number not in self._numbers:
            self._numbers[number] = len(self.variables)
            self.variables.append(number)
        return self._numbers[number]

    def reference(self, function: Function) -> int:
        """The reference of a function whose values are words or endings."""
        found = self._done.get(id(function))
        if found is None:
            if function.variable < 0:
                found = -1 - self._answer(function.value)
            else:
                children = tuple(self.reference(child) for child in function.children)
                found = self._node((self.variable(function.variable), *children))
            self._done[id(function)] = found
            self._alive.append(function)
        return found

    def _node(self, node: tuple[int, ...]) -> int:
        if node not in self._known:
            self._known[node] = len(self.nodes)
            self.nodes.append(node)
        return self._known[node]

    def _answer(self, value: object) -> int:
        """The number of a word among the words, of an ending among the endings."""
        if isinstance(value, Ending):
            if value not in self._answers:
                self._answers[value] = len(self.endings)
                self.endings.append(value)
        elif value not in self._answers:
            self._answers[value] = len(self.words)
            self.words.append(str(value))
        return self._answers[value]


def ending_function(group: Group, projector: Projector) -> Function:
    """Where a group ends, as a function of its controls and of the state that it starts from.

    A start that no move of the controls can reach has no ending of its own: it has that of its neighbour, so
    that the diagram stays small.
    """
    variables = (*group.controls, *group.hidden)
    order = sorted(range(len(variables)), key=variables.__getitem__)
    rows = [
        (tuple((*setting, *start)[at] for at in order), _ending(group, setting, start))
        for setting, starts in group.starts().items()
        for start in starts
    ]
    sizes: Mapping[int, int] = group.sizes
    return _function(rows, [variables[at] for at in order], sizes, projector)


def _ending(group: Group, setting: State, start: State) -> Ending:
    final = group.final(setting, start)
    passed = tuple(state for state in final.visited if state not in final.states)
    return Ending(final.ends, passed, final.chatters)


def _function(
    rows: Sequence[tuple[State, Ending]],
    variables: Sequence[int],
    sizes: Mapping[int, int],
    projector: Projector,
    depth: int = 0,
) -> Function:
    if depth == len(variables):
        return projector.constant(rows[0][1])
    variable = variables[depth]
    by_value: dict[int, list[tuple[State, Ending]]] = {}
    for row in rows:
        by_value.setdefault(row[0][depth], []).append(row)
    some = by_value[min(by_value)]
    parts: Iterable[Sequence[tuple[State, Ending]]] = (
        by_value.get(value, some) for value in range(sizes[variable])
    )
    done: dict[int, Function] = {}
    children = []
    for part in parts:
        if id(part) not in done:
            done[id(part)] = _function(part, variables, sizes, projector, depth + 1)
        children.append(done[id(part)])
    return projector.branch(variable, tuple(children))
