"""Hidden variables in parts that do not move one another, so that each is looked up by itself."""

from collections.abc import Iterator

from planner.circuit.hidden_group import Group
from planner.circuit.states import States


class Parts:
    """The parts of one loom."""

    def __init__(self, states: States) -> None:
        self.states = states
        self._part: dict[int, frozenset[int]] = {}
        for law in states.laws.values():
            together = frozenset(law.support() & states.hidden)
            joined = together.union(*(self._part.get(variable, frozenset()) for variable in together))
            for variable in joined:
                self._part[variable] = joined

    def of(self, support: frozenset[int]) -> Iterator[Group]:
        """Yield the group of each part that a function depends on."""
        parts = {self._part[variable] for variable in support & self.states.hidden}
        for part in sorted(parts, key=min):
            yield self.states.group(part)
