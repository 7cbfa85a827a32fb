"""What many operating points of one loom have in common: who joins whom, and which node is eliminated when.

It depends on the ends of the branches and on the kind of their laws only, not on their ohms nor on what is
closed. So it is worked out once, also for looms that differ in no more than that.
"""

from collections.abc import Sequence
from functools import lru_cache

from planner.currents.laws import Emf, Filament, Resistance
from planner.currents.levels import Levels, pair_of
from planner.currents.rows import Sums, numbers
from planner.currents.solver import Branch

MOST_NEIGHBOURS = 5  # from here on a node is not eliminated for good
LEFT_OUT, STRAIGHT, SOURCE, FILAMENT, JUNCTION = range(5)
KEPT_OUTLINES = 8  # as many as are remembered, the last that were used

Shape = tuple[tuple[str, str, int], ...]  # of each branch: its ends and the kind of its law


def outline_of(branches: Sequence[Branch], zero: str) -> "Outline":
    """The outline of some branches. Exact joints and what has impossible ohms are left out."""
    return _outline(tuple([(branch.a, branch.b, _kind(branch)) for branch in branches]), zero)


def _kind(branch: Branch) -> int:
    law = branch.law
    if isinstance(law, Filament):
        return FILAMENT
    if isinstance(law, Resistance | Emf):
        return LEFT_OUT if law.ohms <= 0.0 else SOURCE if isinstance(law, Emf) else STRAIGHT
    return JUNCTION


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
        Which of ``rows`` have a linear law, ``sources`` of them first that are sources, and which have not:
        filaments first, then junctions.
    open, to_rows
        Which of ``straight`` join two nodes; where their conductances and what sources push belong.
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
        straight = [at for own in (SOURCE, STRAIGHT) for at, kind in enumerate(kinds) if kind == own]
        sources = [at for at in straight if kinds[at] == SOURCE]
        bent = [at for own in (FILAMENT, JUNCTION) for at, kind in enumerate(kinds) if kind == own]
        self.rows, self.a, self.b = numbers(rows), numbers(a), numbers(b)
        self.straight, self.bent, self.sources = numbers(straight), numbers(bent), len(sources)
        self.at_ends = Sums([*a, *b])

        self.open = numbers([n for n, at in enumerate(straight) if a[at] != b[at]])  # of ``straight``
        pairs = [pair_of(a[at], b[at]) for at in straight if a[at] != b[at]]
        kept = {number[zero], *(end[at] for end in (a, b) for at in bent)}
        self.outer = Levels(len(self.names), list(dict.fromkeys(pairs)), kept, MOST_NEIGHBOURS)
        places = [self.outer.place[pair] for pair in pairs]
        self.to_rows = Sums([*places, *(a[at] for at in sources), *(b[at] for at in sources)])
        self.core = Core(self.outer, [(a[at], b[at]) for at in bent], number[zero])


class Core:
    """The nodes that are left of an elimination, and what joins them: edges that are left, and curves.

    ``left`` tells which rows of the elimination are the first rows of the core: what is pushed into its
    nodes, the row that stays 0, and its edges. ``a`` and ``b`` are the ends of the curves. Nodes have numbers
    of their own, in the order of ``nodes``.
    """

    def __init__(self, outer: Levels, curves: Sequence[tuple[int, int]], zero: int) -> None:
        place = {node: n for n, node in enumerate(outer.rest)}
        edges = [(one, other) for one in outer.rest for other in sorted(outer.near[one]) if one < other]
        ends = [(place[one], place[other]) for one, other in curves]
        joined = [(place[one], place[other]) for one, other in edges]
        # A curve from a node to itself joins nothing.
        open_ = [row for row, (one, other) in enumerate(ends) if one != other]
        bent = [pair_of(*ends[row]) for row in open_]
        self.nodes, self.zero = numbers(outer.rest), place[zero]
        self.left = numbers([*outer.rest, outer.nodes, *(outer.place[edge] for edge in edges)])
        self.a, self.b = (numbers([each[end] for each in ends]) for end in (0, 1))
        self.levels = Levels(len(place), list(dict.fromkeys([*joined, *bent])), [self.zero])
        self.open = numbers(open_)
        pushed = [ends[row][end] for end in (0, 1) for row in open_]
        self.to_rows = Sums([*(self.levels.place[pair] for pair in bent), *pushed])
