"""What many operating points of one loom have in common: who joins whom, and which node is eliminated when.

It depends on the ends of the branches and on the kind of their laws only, not on their ohms nor on what is
closed. So it is worked out once, also for looms that differ in no more than that.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from planner.currents.core import Core, core_of
from planner.currents.elimination import Elimination
from planner.currents.laws import Emf, Filament, Resistance
from planner.currents.levels import Levels, pair_of
from planner.currents.rows import Mask, Numbers, Sums, numbers, renumbered
from planner.currents.solver import Branch

MOST_NEIGHBOURS = 5  # from here on a node is not eliminated for good
LEFT_OUT, STRAIGHT, SOURCE, FILAMENT, JUNCTION = range(5)
KEPT_OUTLINES = 8  # as many as are remembered, the last that were used

Shape = tuple[tuple[str, str, int], ...]  # of each branch: its ends and the kind of its law


@dataclass(frozen=True)
class Outline:
    """Nodes and branches by their numbers.

    Attributes
    ----------
    names
        The nodes, sorted; ``zero`` is the number of that which volts count from.
    rows, left_out
        The branches by their index, and those that are left out; ``a`` and ``b`` are the nodes of ``rows``.
    straight, bent
        Which of ``rows`` have a linear law, ``sources`` of them first that are sources, and which have not:
        filaments first, then junctions.
    outer, to_rows
        How everything that touches no curved branch, and is no hub, is eliminated for good; where the
        conductances of ``straight`` that join two nodes belong, and what sources push.
    core
        What is left then.
    """

    names: Sequence[str]
    zero: int
    rows: Numbers
    left_out: Sequence[int]
    a: Numbers
    b: Numbers
    straight: Numbers
    bent: Numbers
    sources: int
    outer: Elimination
    to_rows: Sums
    core: Core

    @property
    def open(self) -> Numbers:
        """Which of ``straight`` join two nodes."""
        return np.flatnonzero(self.a[self.straight] != self.b[self.straight])

    @cached_property
    def number(self) -> Mapping[str, int]:
        """The number of each node."""
        return {name: number for number, name in enumerate(self.names)}

    @cached_property
    def touching(self) -> Mapping[str, Sequence[int]]:
        """The branches that end at each node, by their index."""
        found: dict[str, list[int]] = {name: [] for name in self.names}
        for row, *ends in zip(self.rows.tolist(), self.a.tolist(), self.b.tolist(), strict=True):
            for end in ends:
                found[self.names[end]].append(row)
        return found

    @cached_property
    def at_ends(self) -> Sums:
        """Where what comes out of each branch belongs, and then what goes into it."""
        return Sums(np.concatenate((self.a, self.b)))

    def only(self, kept: Mask, rows: Mask) -> "Outline":
        """The same for some nodes and branches, where nothing else carries any current."""
        outer, places = self.outer.only(kept)
        nodes, place = places[: len(kept) + 1], renumbered(rows)
        straight, bent = rows[self.straight], rows[self.bent]
        sources = straight[: self.sources]
        stays = np.concatenate((straight[self.open], sources, sources))
        return Outline(
            [self.names[n] for n in np.flatnonzero(kept).tolist()],
            int(nodes[self.zero]),
            self.rows[rows],
            self.left_out,
            nodes[self.a[rows]],
            nodes[self.b[rows]],
            place[self.straight[straight]],
            place[self.bent[bent]],
            int(np.count_nonzero(sources)),
            outer,
            Sums(places[self.to_rows.of[stays]]),
            self.core.only(bent, kept, nodes, places),
        )


def outline_of(branches: Sequence[Branch], zero: str) -> Outline:
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
def _outline(shape: Shape, zero: str) -> Outline:
    rows = [row for row, (_, _, kind) in enumerate(shape) if kind != LEFT_OUT]
    kinds = [shape[row][2] for row in rows]
    names = sorted({zero, *(node for row in rows for node in shape[row][:2])})
    number = {name: n for n, name in enumerate(names)}
    a, b = [number[shape[row][0]] for row in rows], [number[shape[row][1]] for row in rows]
    straight = [at for own in (SOURCE, STRAIGHT) for at, kind in enumerate(kinds) if kind == own]
    sources = [at for at in straight if kinds[at] == SOURCE]
    bent = [at for own in (FILAMENT, JUNCTION) for at, kind in enumerate(kinds) if kind == own]
    pairs = [pair_of(a[at], b[at]) for at in straight if a[at] != b[at]]
    kept = {number[zero], *(end[at] for end in (a, b) for at in bent)}
    outer = Levels(len(names), list(dict.fromkeys(pairs)), kept, MOST_NEIGHBOURS)
    places = [outer.place[pair] for pair in pairs]
    return Outline(
        names,
        number[zero],
        numbers(rows),
        [row for row, (_, _, kind) in enumerate(shape) if kind == LEFT_OUT],
        numbers(a),
        numbers(b),
        numbers(straight),
        numbers(bent),
        len(sources),
        outer.planned(),
        Sums([*places, *(a[at] for at in sources), *(b[at] for at in sources)]),
        core_of(outer, [(a[at], b[at]) for at in bent], number[zero]),
    )
