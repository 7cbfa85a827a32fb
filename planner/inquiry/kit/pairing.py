"""The best way to give each of some things one of some others, and which other ways are just as good.

Costs are whole numbers, so that equally good ways are found to be equal.
"""

from collections.abc import Mapping
from dataclasses import dataclass

Pair = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Pairing:
    """By each row the columns that it has in one best way or another; None among them: in one it has none."""

    choices: Mapping[int, frozenset[int | None]]

    def is_settled(self, row: int) -> bool:
        """Whether a row has the same column in every best way."""
        return len(self.choices[row]) == 1


def pair_up(rows: int, columns: int, costs: Mapping[Pair, int]) -> Pairing:
    """Give as many rows a column as can have one, at the least sum of costs.

    Parameters
    ----------
    rows, columns
        How many there are.
    costs
        Of each pair that may be, 0 or more; other pairs may not be.

    Notes
    -----
    The Hungarian method on a square matrix, in which a pair that may not be costs more than all that may.
    An edge is in some best way if and only if it has no slack and lies on a cycle with the edges of the way
    that was found; so the strong components of the edges without slack tell every other best way.
    """
    size = max(rows, columns)
    dear = 1 + sum(costs.values())
    matrix = [[costs.get((row, column), dear) for column in range(size)] for row in range(size)]
    row_of, row_price, column_price = _cheapest(matrix)
    column_of = {row: column for column, row in enumerate(row_of)}
    tight = [[c for c in range(size) if matrix[r][c] == row_price[r] + column_price[c]] for r in range(size)]
    component = _components([[row_of[c] for c in tight[r]] for r in range(size)])
    choices: dict[int, frozenset[int | None]] = {}
    for row in range(rows):
        possible = [c for c in tight[row] if c == column_of[row] or component[row_of[c]] == component[row]]
        choices[row] = frozenset(c if (row, c) in costs else None for c in possible)
    return Pairing(choices)


def _cheapest(matrix: list[list[int]]) -> tuple[list[int], list[int], list[int]]:
    """The row of each column in a cheapest perfect matching, and the prices that prove it cheapest."""
    size = len(matrix)
    row_price, column_price = [0] * size, [0] * (size + 1)
    row_of = [-1] * (size + 1)  # the last column is where each search begins
    for row in range(size):
        column, row_of[size] = size, row
        slack: list[float] = [float("inf")] * size
        came_from = [size] * size
        is_done = [False] * (size + 1)
        while row_of[column] != -1:
            is_done[column] = True
            here, step, following = row_of[column], float("inf"), -1
            for other in range(size):
                if is_done[other]:
                    continue
                reduced = matrix[here][other] - row_price[here] - column_price[other]
                if reduced < slack[other]:
                    slack[other], came_from[other] = reduced, column
                if slack[other] < step:
                    step, following = slack[other], other
            for other in range(size + 1):
                if is_done[other]:
                    row_price[row_of[other]] += int(step)
                    column_price[other] -= int(step)
                elif other < size:
                    slack[other] -= step
            column = following
        while column != size:
            row_of[column] = row_of[came_from[column]]
            column = came_from[column]
    return row_of[:size], row_price, column_price[:size]


def _components(following: list[list[int]]) -> list[int]:
    """The strong component of each node, by the nodes that follow it; without recursion."""
    order: list[int] = []
    seen: set[int] = set()
    for start in range(len(following)):
        stack = [] if start in seen else [(start, iter(following[start]))]
        seen.add(start)
        while stack:
            node, rest = stack[-1]
            new = next((n for n in rest if n not in seen), None)
            if new is None:
                order.append(stack.pop()[0])
            else:
                seen.add(new)
                stack.append((new, iter(following[new])))
    before: list[list[int]] = [[] for _ in following]
    for node, others in enumerate(following):
        for other in others:
            before[other].append(node)
    component = [-1] * len(following)
    for start in reversed(order):
        reached = [start] if component[start] == -1 else []
        while reached:
            node = reached.pop()
            if component[node] == -1:
                component[node] = start
                reached += [n for n in before[node] if component[n] == -1]
    return component
