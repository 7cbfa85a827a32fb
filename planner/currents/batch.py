"""Many operating points at once: the same method as ``solver``, with one column of numbers for each point.

All points together are one network in which a branch is there in some points and not in others. Which node
is eliminated when is planned once. Where a branch is not there its conductance is 0, and where that leaves a
node alone nothing is divided. Needs numpy, which takes a fifth of a second to import: for some ten points and
more of one loom this pays, for fewer ``solve`` does.
"""

from array import array
from collections.abc import Mapping, Sequence
from math import nan

import numpy as np

from planner.currents.curves import Array, Curves
from planner.currents.elimination import Elimination, Mask, Rows, Value, fewest_first, join, stacked
from planner.currents.laws import Emf
from planner.currents.levels import Sums
from planner.currents.newton import Newton
from planner.currents.solver import Branch, Point, check, is_joint, solve_closed

MOST_NEIGHBOURS = 4  # of a node that is eliminated for good; taking out a hub would join all its neighbours

MOST_NUMBERS = 250_000  # in one row of columns for every branch: more would only take memory, 8 bytes each


def solve_all(
    branches: Sequence[Branch], closed: Mask, zero: str, near: Sequence[Point | None] = ()
) -> list[Point]:
    """Solve many positions of one loom: a row of ``closed`` for each branch, a column for each position.

    Where a point is known that is ``near``, it is what to begin from. What is found does not depend on it.
    Positions with exact joints, and any that do not settle here, are solved one by one.
    """
    joints = [row for row, branch in enumerate(branches) if is_joint(branch.law)]
    is_alone = np.logical_or.reduce(closed[joints], axis=0)
    together = np.flatnonzero(~is_alone)
    width = max(1, MOST_NUMBERS // max(1, len(branches)))
    found: dict[int, Point] = {}
    for own in (together[at : at + width] for at in range(0, together.size, width)):
        starts = [near[n] for n in own.tolist()] if near else ()
        found |= zip(own.tolist(), Batch(branches, closed[:, own], zero, starts).points(), strict=True)
    return [
        solve_closed(branches, np.flatnonzero(closed[:, n]).tolist(), zero)
        if n not in found or found[n].unsettled
        else found[n]
        for n in range(closed.shape[1])
    ]


def spread(mets: Sequence[bytes], guard_of: Sequence[int]) -> Mask:
    """Which branches are closed in which positions, by the guards that hold in each."""
    holds = np.frombuffer(b"".join(mets), dtype=bool).reshape(len(mets), -1)
    return np.ascontiguousarray(holds[:, list(guard_of)].T)


class Batch:
    """Operating points of a number of branches; ``closed`` has a row for each, a column for each point.

    Attributes
    ----------
    names
        The nodes of whatever is closed in some point, sorted.
    volts
        A row for each node, a column for each point, in V; against zero where the node is ``joined`` to it.
    amps
        A row for each branch, in their order, from its first node to its second; 0 where it is open.
    settled, rounds
        For each point.

    Raises
    ------
    ValueError
        If a source has no resistance, a resistance is negative, or there are exact joints among them.
    """

    def __init__(
        self, branches: Sequence[Branch], closed: Mask, zero: str, near: Sequence[Point | None] = ()
    ) -> None:
        self.rows = np.flatnonzero(np.logical_or.reduce(closed, axis=1))  # of what is ever closed
        self.branches = [branches[row] for row in self.rows.tolist()]
        for branch in self.branches:
            check(branch)
            if is_joint(branch.law):
                raise ValueError(f"{' '.join(branch.name)}: exact joints are solved one point at a time")
        self.there, self.width = closed[self.rows], closed.shape[1]
        self.names = sorted({zero, *(node for branch in self.branches for node in (branch.a, branch.b))})
        number = {node: n for n, node in enumerate(self.names)}
        self.zero = number[zero]
        self.a = np.array([number[branch.a] for branch in self.branches], dtype=int)
        self.b = np.array([number[branch.b] for branch in self.branches], dtype=int)
        curved = [row for row, branch in enumerate(self.branches) if not branch.law.is_linear]
        self.curves = Curves([self.branches[row].law for row in curved])
        self.bent = np.array([curved[i] for i in self.curves.order], dtype=int)
        self.straight = np.array([row for row, b in enumerate(self.branches) if b.law.is_linear], dtype=int)
        self.near = near
        self.outer = self._take_out_linear()
        self.amps = np.zeros((len(branches), self.width))
        self._solve()

    def _take_out_linear(self) -> Elimination:
        """Everything that touches no curved branch is eliminated once, for good."""
        rows: Rows = [{} for _ in self.names]
        pushed: list[Value] = [0.0] * len(self.names)
        for row in self.straight.tolist():
            a, b, law = int(self.a[row]), int(self.b[row]), self.branches[row].law
            if a == b:
                continue
            siemens: Value = law.siemens(0.0)
            if not self.there[row].all():
                siemens = siemens * self.there[row]
            join(rows, a, b, siemens)
            if isinstance(law, Emf):
                pushed[a] = pushed[a] + law.volts * siemens
                pushed[b] = pushed[b] - law.volts * siemens
        core = {*self.a[self.bent].tolist(), *self.b[self.bent].tolist(), self.zero}
        others = set(range(len(rows))) - core
        outer = Elimination(rows, pushed)
        outer.take_out(fewest_first([set(row) for row in rows], others, MOST_NEIGHBOURS))
        self.core = sorted(core | others)
        return outer

    def _solve(self) -> None:
        """Volts of the core, then of what was eliminated, then currents."""
        volts: list[Value] = [0.0] * len(self.names)
        joined: list[Mask] = [np.zeros(self.width, dtype=bool)] * len(self.names)
        newton = self._newton()
        solved = newton.solve(self._first_guess())
        for node, found, is_joined in zip(self.core, solved, newton.joined(), strict=True):
            volts[node], joined[node] = found, is_joined
        self.outer.put_back(volts)
        self.outer.reach(joined)
        self.volts, self.joined = stacked(volts, self.width), np.array(joined, dtype=bool)
        self.settled, self.rounds = newton.is_settled, newton.rounds
        across = self.volts[self.a] - self.volts[self.b]
        amps = np.empty(across.shape)
        amps[self.bent] = self.curves.at(across[self.bent])[0]
        laws = [self.branches[row].law for row in self.straight.tolist()]
        siemens = np.array([law.siemens(0.0) for law in laws]).reshape(-1, 1)
        driven = np.array([law.amps(0.0) for law in laws]).reshape(-1, 1)
        amps[self.straight] = driven + siemens * across[self.straight]
        self.amps[self.rows] = amps * self.there

    def _first_guess(self) -> Array:
        """Volts across each curved branch from which to begin, NaN where nothing is known."""
        guess = np.full((self.bent.size, self.width), np.nan)
        for column, point in enumerate(self.near):
            if point is not None:
                own = (self.branches[row] for row in self.bent.tolist())
                guess[:, column] = [
                    point.across(branch) if branch.a in point.places else nan for branch in own
                ]
        return guess

    def _newton(self) -> Newton:
        place = {node: n for n, node in enumerate(self.core)}
        edges = {
            (place[one], place[other]): siemens
            for one in self.core
            for other, siemens in self.outer.rows[one].items()
            if place[one] < place[other]
        }
        return Newton(
            list(edges),
            stacked(list(edges.values()), self.width),
            stacked([self.outer.pushed[node] for node in self.core], self.width),
            self.curves,
            np.array([place[node] for node in self.a[self.bent].tolist()], dtype=int),
            np.array([place[node] for node in self.b[self.bent].tolist()], dtype=int),
            self.there[self.bent],
            place[self.zero],
        )

    def points(self) -> list[Point]:
        """Each column as a point of its own."""
        left, around = np.zeros(self.volts.shape), np.zeros(self.volts.shape)
        sums = Sums([*self.a.tolist(), *self.b.tolist()])
        own = self.amps[self.rows]
        sums.add(left, np.concatenate((-own, own)))
        sums.add(around, np.concatenate((self.there, self.there)).astype(float))
        residual = np.abs(left).max(axis=0, initial=0.0).tolist()
        numbers, amps = (np.ascontiguousarray(columns.T) for columns in (self.volts, self.amps))
        places = _Chosen(self.names, around > 0.0)
        afloat = _Chosen(self.names, (around > 0.0) & ~self.joined)
        return [
            Point(
                places.at(n),
                array("d", numbers[n].tobytes()),
                afloat.at(n).keys(),
                array("d", amps[n].tobytes()),
                residual[n],
                int(self.rounds[n]),
                () if self.settled[n] else (("not settled together",),),
            )
            for n in range(self.width)
        ]


class _Chosen:
    """Some of the nodes with their numbers, others in each point."""

    def __init__(self, names: Sequence[str], chosen: Mask) -> None:
        self.names, self.chosen = names, np.ascontiguousarray(chosen.T)
        self.known: dict[bytes, Mapping[str, int]] = {}  # few choices are met in many points

    def at(self, point: int) -> Mapping[str, int]:
        """Those of one point."""
        key = self.chosen[point].tobytes()
        found = self.known.get(key)
        if found is None:
            found = self.known[key] = {self.names[n]: n for n in np.flatnonzero(self.chosen[point]).tolist()}
        return found
