"""Where wires cross, and a better order of the ends at a terminal: what turns upwards goes above the rest."""

from collections.abc import Callable, Sequence
from itertools import combinations, pairwise

from planner.pictures.graph import WHENS, Graph
from planner.pictures.sides import LegEnd, SideOrder, in_rows
from planner.pictures.svg import Point

Way = Sequence[Point]


def crossings(graph: Graph, ways: Sequence[Way]) -> int:
    """How often wires cross one another in either picture."""
    count = 0
    for when in WHENS:
        drawn = [way for leg, way in zip(graph.legs, ways, strict=True) if leg.look(when)]
        for one, other in combinations(drawn, 2):
            count += sum(_cross(*first, *second) for first in pairwise(one) for second in pairwise(other))
    return count


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether an upright piece and a level one meet inside both."""
    if a[0] == b[0] and c[1] == d[1]:
        a, b, c, d = c, d, a, b
    if a[1] != b[1] or c[0] != d[0]:
        return False
    (left, right), (top, bottom) = sorted((a[0], b[0])), sorted((c[1], d[1]))
    return left < c[0] < right and top < a[1] < bottom


def untangled(
    graph: Graph, sides: Sequence[tuple[SideOrder, SideOrder]], ways: Sequence[Way]
) -> list[tuple[SideOrder, SideOrder]]:
    """The same sides, with the ends at each terminal in the order in which their wires turn up or down."""

    def turn(end: LegEnd) -> int:
        leg, which = end
        way = ways[leg] if which == 0 else ways[leg][::-1]
        down = next((y - way[0][1] for _, y in way if y != way[0][1]), 0.0)
        return (down > 0) - (down < 0)

    return [(_turned(graph, left, turn), _turned(graph, right, turn)) for left, right in sides]


def _turned(graph: Graph, order: SideOrder, turn: Callable[[LegEnd], int]) -> SideOrder:
    slots = (
        (key, in_rows(graph, sorted((end for row in rows for end in row), key=turn)))
        for key, rows in order.slots
    )
    return SideOrder(order.side, tuple(slots))
