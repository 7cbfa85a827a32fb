"""Where wires cross, and a better order of the ends at a terminal: what turns upwards goes above the rest."""

from collections.abc import Callable, Sequence
from itertools import pairwise, permutations

from planner.pictures.graph import WHENS, Graph
from planner.pictures.sides import LegEnd, SideOrder, in_rows
from planner.pictures.svg import Point

Way = Sequence[Point]
Piece = tuple[float, float, float]


def crossings(graph: Graph, ways: Sequence[Way]) -> int:
    """How often wires cross one another in either picture."""
    count = 0
    for when in WHENS:
        drawn = [_pieces(way) for leg, way in zip(graph.legs, ways, strict=True) if leg.look(when)]
        count += sum(_cross(level, upright) for (level, _), (_, upright) in permutations(drawn, 2))
    return count


def _pieces(way: Way) -> tuple[list[Piece], list[Piece]]:
    """The level pieces of a way, and the upright ones: where each lies, and from where to where."""
    level: list[Piece] = []
    upright: list[Piece] = []
    for (x, y), (to_x, to_y) in pairwise(way):
        if y == to_y:
            level.append((y, min(x, to_x), max(x, to_x)))
        if x == to_x:
            upright.append((x, min(y, to_y), max(y, to_y)))
    return level, upright


def _cross(level: Sequence[Piece], upright: Sequence[Piece]) -> int:
    """How often level and upright pieces meet inside both."""
    return sum(
        left < x < right and top < y < bottom for y, left, right in level for x, top, bottom in upright
    )


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
