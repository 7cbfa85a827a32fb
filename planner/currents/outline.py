"""What many operating points of one loom have in common: who joins whom, and which node is eliminated when.

It depends on the ends of the branches and on the kind of their laws only, not on their ohms nor on what is
closed. So it is worked out once, also for looms that differ in no more than that.
"""

from collections.abc import Sequence
from functools import lru_cache

from planner.currents.laws import Emf, Filament, Resistance
from planner.currents.levels import Levels, Sums, numbers, pair_of
from planner.currents.solver import Branch

MOST_NEIGHBOURS = 5  # from here on a node is not eliminated for good
LEFT_OUT, STRAIGHT, FILAMENT, JUNCTION = range(4)
KEPT_OUTLINES = 8  # as many as are remembered, the last that were used

Shape = tuple[tuple[str, str, int], ...]  # of each branch: its ends and the kind of its law


def outline_of(branches: Sequence[Branch], zero: str) -> "Outline":
    """The outline of some branches. Exact joints and what has impossible ohms are left out."""
    return _outline(tuple([(branch.a, branch.b, _kind(branch)) for branch in branches]), zero)


def _kind(branch: Branch) -> int:
    law = branch.law
    if isinstance(law, Resistance | Emf):
        return STRAIGHT if law.ohms > 0.0 else LEFT_OUT
    return FILAMENT if isinstance(law, Filament) else JUNCTION


@lru_cache(KEPT_OUTLINES)
def _outline(shape: Shape, zero: str) -> "Outline":
    return Outline(shape, zero)


class Outline:
    """Nodes and branches by their numbers.

    Attributes
    ----------
    names
        The nodes, sorted.
    rows, left_out
        The branches by their index, and those that are left out; ``a`` and ``b`` are the nodes of ``rows``.
    straight, bent
        Which of ``rows`` have a linear law, and which have not: filaments first, then junctions.
    outer
        How everything that touches no curved branch, and is no hub, is eliminated for good.
    core
        What is left then: its nodes are those of ``outer.rest``.
    """

    def __init__(self, shape: Shape, zero: str) -> None:
        rows = [row for row, (_, _, kind) in enumerate(shape) if kind != LEFT_OUT]
        kinds = [shape[row][2] for row in rows]
        self.left_out = [row for row, (_, _, kind) in enumerate(shape) if kind == LEFT_OUT]
        self.names = sorted({zero, *(node for row in rows for node in shape[row][:2])})
        number = {node: n for n, node in enumerate(self.names)}
        a, b = [number[shape[row][0]] for row in rows], [number[shape[row][1]] for row in rows]
        straight = [at for at, kind in enumerate(kinds) if kind == STRAIGHT]
        bent = [at for own in (FILAMENT, JUNCTION) for at, kind in enumerate(kinds) if kind == own]
        self.rows, self.a, self.b = numbers(rows), numbers(a), numbers(b)
        self.straight, self.bent = numbers(straight), numbers(bent)
        self.at_ends = Sums([*a, *b])

        self.open = numbers([n for n, at in enumerate(straight) if a[at] != b[at]])  # of ``straight``
        pairs = [pair_of(a[at], b[at]) for at in straight if a[at] != b[at]]
        kept = {number[zero], *(end[at] for end in (a, b) for at in bent)}
        self.outer = Levels(len(self.names), list(dict.fromkeys(pairs)), kept, MOST_NEIGHBOURS)
        self.pairs = len(set(pairs))
        self.to_pairs = Sums([self.outer.place[pair] for pair in pairs])
        self.core = Core(self.outer, [(a[at], b[at]) for at in bent], number[zero])


class Core:
    """The nodes that are left of an elimination, and what joins them: edges that are left, and curves.

    ``edges`` tells where the conductances of the edges stand among those that the elimination leaves;
    ``a`` and ``b`` are the ends of the curves. Nodes have numbers of their own, in the order of ``nodes``.
    """

    def __init__(self, outer: Levels, curves: Sequence[tuple[int, int]], zero: int) -> None:
        place = {node: n for n, node in enumerate(outer.rest)}
        edges = [(one, other) for one in outer.rest for other in sorted(outer.near[one]) if one < other]
        ends = [(place[one], place[other]) for one, other in curves]
        joined = [(place[one], place[other]) for one, other in edges]
        bent = [pair_of(one, other) for one, other in ends]
        pairs = list(dict.fromkeys([*joined, *(pair for pair in bent if pair[0] != pair[1])]))
        self.nodes, self.zero, self.pairs = numbers(outer.rest), place[zero], len(pairs)
        self.edges = numbers([outer.place[edge] for edge in edges])
        self.edge_a, self.edge_b = (numbers([edge[end] for edge in joined]) for end in (0, 1))
        self.a, self.b = (numbers([each[end] for each in ends]) for end in (0, 1))
        self.levels = Levels(len(place), pairs, [self.zero])
        open_ = [row for row, (one, other) in enumerate(bent) if one != other]
        self.open = numbers(open_)  # a curve from a node to itself joins nothing
        self.to_pairs = Sums([self.levels.place[bent[row]] for row in open_])
        self.to_ends = Sums([*(ends[row][0] for row in open_), *(ends[row][1] for row in open_)])
        one, other = ([edge[end] for edge in (*joined, *ends)] for end in (0, 1))
        self.at_nodes = Sums([*one, *other])
