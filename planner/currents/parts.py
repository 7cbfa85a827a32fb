"""Which variables hang together by what loads and hidden variables ask, and where all is off at rest.

A part of the loom that takes nothing at rest stays there if a search would only blame it for what it takes.
So a search need not look at it, and its time does not grow with the loom.
"""

from collections.abc import Iterable, Iterator, Sequence

from planner.currents.sums import Scope, Table

NO_PART = -1  # of what asks no variable


class Parts:
    """The parts of one loom, each told by one of its variables."""

    def __init__(self, loads: Iterable[Table], laws: Sequence[Table]) -> None:
        self._up: dict[int, int] = {}
        tables = list(loads)
        for table in (*tables, *laws):
            for variable in table.scope:
                self._up[self.of_variable(variable)] = self.of_variable(table.scope[0])
        self.restless = frozenset(self._restless(tables, laws))

    def of_variable(self, variable: int) -> int:
        """The part of a variable."""
        up = self._up
        root = variable
        while (above := up.setdefault(root, root)) != root:
            root = above
        up[variable] = root
        return root

    def of(self, scope: Scope) -> int:
        """The part of a scope of some load."""
        return self.of_variable(scope[0]) if scope else NO_PART

    def _restless(self, loads: Sequence[Table], laws: Sequence[Table]) -> Iterator[int]:
        """Yield the parts that take something at rest, or where not all can be at rest."""
        for table in loads:
            if table.rows[(0,) * len(table.scope)]:
                yield self.of(table.scope)
        for table in laws:
            if (0,) * len(table.scope) not in table.rows:
                yield self.of(table.scope)
