"""Many operating points at once: the same method as ``solver``, with one column of numbers for each point.

All points together are one network in which a branch is there in some points and not in others. Which node
is eliminated when is planned once. Where a branch is not there its conductance is 0, and where that leaves a
node alone nothing is divided. Needs numpy, which takes a fifth of a second to import: for some ten points and
more of one loom this pays, for fewer ``solve`` does.
"""

from array import array
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from planner.currents.amps import NO_AMPS, Amps
from planner.currents.curves import Array, Curves
from planner.currents.flowing import MOST_LEFT_AMPS
from planner.currents.hanging import Hanging, Trees
from planner.currents.newton import Newton
from planner.currents.outline import Outline, outline_of
from planner.currents.rows import Mask, Numbers
from planner.currents.solver import Branch, Point, solve_closed

MOST_NUMBERS = 250_000  # in one row of columns for every branch: more would only take memory, 8 bytes each
WORTH_NUMBERS = 20_000  # fewer that need not be reckoned are not worth a plan of their own

FEW_BRANCHES = 1_000  # up to here a point has room for the current of every branch


def solve_all(
    branches: Sequence[Branch], closed: Mask, zero: str, near: Sequence[Point | None] = ()
) -> list[Point]:
    """Solve many positions of one loom: a row of ``closed`` for each branch, a column for each position.

    Where a point is known that is ``near``, it is what to begin from. What is found does not depend on it.
    Positions with exact joints or impossible ohms, and any that do not settle here or only with fewer digits,
    are solved one by one.
    """
    outline = outline_of(branches, zero)
    is_alone = np.logical_or.reduce(closed[outline.left_out], axis=0)
    found: dict[int, Point] = {}
    for own, trees in _parts(outline, branches, closed, np.flatnonzero(~is_alone)):
        starts = [near[n] for n in own.tolist()] if near else ()
        found |= zip(own.tolist(), _together(trees, closed[:, own], starts), strict=True)
    return [
        solve_closed(branches, np.flatnonzero(closed[:, n]).tolist(), zero)
        if n not in found or found[n].unsettled or found[n].residual_amps > MOST_LEFT_AMPS
        else found[n]
        for n in range(closed.shape[1])
    ]


def _parts(
    outline: Outline, branches: Sequence[Branch], closed: Mask, columns: Numbers
) -> Iterator[tuple[Numbers, Trees]]:
    """Yield columns that are solved together, and what hangs in all of them.

    Of a large loom each moves little, and those that follow one another about the same.
    """
    trees = Trees(outline, branches, np.logical_or.reduce(closed[:, columns], axis=1))
    if columns.size > 1 and np.count_nonzero(trees.rows) * columns.size > MOST_NUMBERS:
        for half in np.array_split(columns, 2):
            yield from _parts(outline, branches, closed, half)
    elif columns.size:
        yield columns, trees


def _together(trees: Trees, closed: Mask, near: Sequence[Point | None]) -> list[Point]:
    """Solve the columns of one batch."""
    outline, branches = trees.outline, trees.branches
    spared = np.count_nonzero(~trees.rows) * closed.shape[1]
    left = outline.only(trees.kept, trees.rows) if spared > WORTH_NUMBERS else outline
    return Batch(branches, closed, outline.names[outline.zero], near, left).points(trees)


def spread(mets: Sequence[bytes], guard_of: Sequence[int]) -> Mask:
    """Which branches are closed in which positions, by the guards that hold in each."""
    holds = np.frombuffer(b"".join(mets), dtype=bool).reshape(len(mets), -1)
    return np.ascontiguousarray(holds.T)[list(guard_of)]


class Batch:
    """Operating points of a number of branches; ``closed`` has a row for each, a column for each point.

    ``known`` is the outline of the branches, if somebody has worked it out.

    Attributes
    ----------
    names
        The nodes of all branches, sorted.
    volts
        A row for each node, a column for each point, in V; against zero where the node is ``joined`` to it.
    flowing
        A row for each branch of the outline, from its first node to its second, in A; 0 where it is open.
    settled, rounds
        For each point.

    Raises
    ------
    ValueError
        If exact joints or impossible ohms are closed: such a point is solved alone, or refused.
    """

    def __init__(
        self,
        branches: Sequence[Branch],
        closed: Mask,
        zero: str,
        near: Sequence[Point | None] = (),
        known: Outline | None = None,
    ) -> None:
        self.outline = outline = known or outline_of(branches, zero)
        for row in outline.left_out:
            if closed[row].any():
                raise ValueError(
                    f"{' '.join(branches[row].name)}: such joints are solved one point at a time"
                )
        self.names = outline.names
        self.branches = [branches[row] for row in outline.rows.tolist()]
        self.closed, self.there, self.width = closed, closed[outline.rows], closed.shape[1]
        self._solve(near)

    @property
    def amps(self) -> Array:
        """A row for each branch, in their order, from its first node to its second; 0 where it is open."""
        found = np.zeros(self.closed.shape)
        found[self.outline.rows] = self.flowing
        return found

    def _solve(self, near: Sequence[Point | None]) -> None:
        """Eliminate what is linear for good, find the volts of the core, then all others, then currents."""
        outline, core = self.outline, self.outline.core
        linear, curved = (
            [self.branches[at].law for at in own.tolist()] for own in (outline.straight, outline.bent)
        )
        siemens = _column([law.siemens(0.0) for law in linear])
        driven = _column([law.amps(0.0) for law in linear[: outline.sources]])
        is_there = self.there[outline.straight]
        pushed = driven * is_there[: outline.sources]
        rows = np.zeros((outline.outer.height, self.width))
        outline.to_rows.add(rows, np.concatenate(((siemens * is_there)[outline.open], -pushed, pushed)))
        gone = outline.outer.take_out(rows)
        curves = Curves(curved)
        newton = Newton(core, rows[core.left], curves, self.there[outline.bent])
        newton.solve(self._first_guess(near))
        self.settled, self.rounds = newton.is_settled, newton.rounds
        volts = np.zeros((len(self.names) + 1, self.width))
        volts[core.nodes], volts[-1] = newton.volts[:-1], 1.0
        outline.outer.put_back(volts, gone)
        joined = np.zeros(volts.shape)
        joined[core.nodes] = newton.joined[:-1]
        outline.outer.reach(joined, gone)
        self.volts, self.joined = volts[:-1], joined[:-1] > 0.0
        across = self.volts[outline.a] - self.volts[outline.b]
        own = np.empty(across.shape)
        own[outline.bent] = curves.at(across[outline.bent])[0]
        own[outline.straight] = siemens * across[outline.straight]
        own[outline.straight[: outline.sources]] += driven
        self.flowing = own * self.there

    def _first_guess(self, near: Sequence[Point | None]) -> Array:
        """Volts across each curved branch from which to begin, NaN where nothing is known."""
        bent = [self.branches[at] for at in self.outline.bent.tolist()]
        guess = np.full((len(bent), self.width), np.nan)
        alike: dict[int, list[int]] = {}  # columns by the order of nodes, of which many points share few
        for column, point in enumerate(near):
            if point is not None:
                alike.setdefault(id(point.places), []).append(column)
        for columns in alike.values():
            points = [point for column in columns if (point := near[column]) is not None]
            ends = [[points[0].places.get(end, -1) for end in branch[1:3]] for branch in bent]
            rows = [n for n, each in enumerate(ends) if min(each) >= 0]
            volts = np.stack([np.asarray(point.numbers) for point in points], axis=1)
            a, b = [ends[n][0] for n in rows], [ends[n][1] for n in rows]
            guess[np.ix_(rows, columns)] = volts[a] - volts[b]
        return guess

    def points(self, trees: Trees) -> list[Point]:
        """Each column as a point of its own; what hangs in all of them is told when somebody asks."""
        left = np.zeros(self.volts.shape)
        self.outline.at_ends.add(left, np.concatenate((-self.flowing, self.flowing)))
        residual = np.abs(left).max(axis=0, initial=0.0).tolist()
        numbers, flowing = (np.ascontiguousarray(columns.T) for columns in (self.volts, self.flowing))
        branches = len(self.closed)
        all_amps = np.ascontiguousarray(self.amps.T) if branches <= FEW_BRANCHES else None
        bits = np.packbits(self.closed, axis=0).T
        places = {name: n for n, name in enumerate(self.names)}
        at_zero = trees.outline.touching[self.names[self.outline.zero]]
        is_joined = self.joined.copy()
        is_joined[self.outline.zero] = np.logical_or.reduce(self.closed[at_zero], axis=0)
        afloat = _Chosen(self.names, ~is_joined)
        rows = self.outline.rows.astype(np.intc)
        is_live = np.abs(flowing) > NO_AMPS
        live, own = array("i", rows[np.nonzero(is_live)[1]].tobytes()), array("d", flowing[is_live].tobytes())
        until = np.cumsum(np.count_nonzero(is_live, axis=1)).tolist()
        found = []
        for n, (start, end) in enumerate(pairwise([0, *until])):
            row = None if all_amps is None else array("d", all_amps[n].tobytes())
            amps = Amps(live[start:end], own[start:end], branches, row)
            found.append(
                Point(
                    places,
                    array("d", numbers[n].tobytes()),
                    afloat.at(n),
                    amps,
                    residual[n],
                    int(self.rounds[n]),
                    () if self.settled[n] else (("not settled together",),),
                    Hanging(trees, bits[n].tobytes()),
                )
            )
        return found


def _column(values: Sequence[float]) -> Array:
    return np.array(values, dtype=float).reshape(-1, 1)


class _Chosen:
    """Some of the nodes, others in each point."""

    def __init__(self, names: Sequence[str], chosen: Mask) -> None:
        self.names, self.chosen = names, np.ascontiguousarray(chosen.T)
        self.known: dict[bytes, frozenset[str]] = {}  # few choices are met in many points

    def at(self, point: int) -> frozenset[str]:
        """Those of one point."""
        key = self.chosen[point].tobytes()
        found = self.known.get(key)
        if found is None:
            numbers = np.flatnonzero(self.chosen[point]).tolist()
            found = self.known[key] = frozenset([self.names[n] for n in numbers])
        return found
