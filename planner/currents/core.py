"""What is left of an elimination: the nodes that curved branches touch, hubs, and all curves."""

from collections.abc import Sequence

from planner.currents.elimination import Elimination
from planner.currents.levels import Levels, pair_of
from planner.currents.rows import Mask, Numbers, Sums, numbers, renumbered


class Core:
    """Nodes with numbers of their own, in the order of ``nodes``, the edges that are left, and curves.

    ``left`` tells which rows of the elimination are the first rows of the core: what is pushed into its
    nodes, the row that stays 0, and its edges. ``a`` and ``b`` are the ends of the curves, ``open`` those
    curves that join two nodes; where their conductances and what they push belong is told by ``to_rows``.
    """

    def __init__(
        self,
        nodes: Numbers,
        zero: int,
        left: Numbers,
        ends: tuple[Numbers, Numbers],
        levels: Elimination,
        to_rows: Sums,
    ) -> None:
        self.nodes, self.zero, self.left, self.levels, self.to_rows = nodes, zero, left, levels, to_rows
        self.a, self.b = ends
        self.open = (self.a != self.b).nonzero()[0]

    def only(self, curves: Mask, kept: Mask, nodes: Numbers, rows: Numbers) -> "Core":
        """The same for some curves and nodes of the elimination, whose nodes and rows have other numbers."""
        own = kept[self.nodes]
        place = renumbered(own)
        levels, places = self.levels.only(own)
        stays = rows[self.left] != nodes[-1]
        stays[len(self.nodes)] = True
        is_open = curves[self.open]
        return Core(
            nodes[self.nodes[own]],
            int(place[self.zero]),
            rows[self.left[stays]],
            (place[self.a[curves]], place[self.b[curves]]),
            levels,
            Sums(places[self.to_rows.of.reshape(3, -1)[:, is_open].ravel()]),
        )


def core_of(outer: Levels, curves: Sequence[tuple[int, int]], zero: int) -> Core:
    """Plan what is left of an elimination."""
    place = {node: n for n, node in enumerate(outer.rest)}
    edges = [(one, other) for one in outer.rest for other in sorted(outer.near[one]) if one < other]
    ends = [(place[one], place[other]) for one, other in curves]
    joined = [(place[one], place[other]) for one, other in edges]
    # A curve from a node to itself joins nothing.
    open_ = [(one, other) for one, other in ends if one != other]
    bent = [pair_of(*each) for each in open_]
    levels = Levels(len(place), list(dict.fromkeys([*joined, *bent])), [place[zero]])
    pushed = [each[end] for end in (0, 1) for each in open_]
    return Core(
        numbers(outer.rest),
        place[zero],
        numbers([*outer.rest, outer.nodes, *(outer.place[edge] for edge in edges)]),
        (numbers([one for one, _ in ends]), numbers([other for _, other in ends])),
        levels.planned(),
        Sums([*(levels.place[pair] for pair in bent), *pushed]),
    )
