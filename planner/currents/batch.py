"""Many operating points at once: the same method as ``solver``, with one column of numbers for each point.

All points together are one network in which a branch is there in some points and not in others. Which node
is eliminated when is planned once. Where a branch is not there its conductance is 0, and where that leaves a
node alone nothing is divided. Needs numpy, which takes a fifth of a second to import: for some ten points and
more of one loom this pays, for fewer ``solve`` does.
"""

from collections.abc import Sequence

import numpy as np

from planner.currents.curves import Array, Curves
from planner.currents.elimination import Elimination, Mask, Rows, Value, fewest_first, join, stacked
from planner.currents.laws import Emf
from planner.currents.newton import Newton, Sums
from planner.currents.solver import Branch, Point, check, is_joint, solve

MOST_NEIGHBOURS = 4  # of a node that is eliminated for good; taking out a hub would join all its neighbours


def solve_all(points: Sequence[Sequence[Branch]], zero: str) -> list[Point]:
    """Solve many sets of closed branches of one loom.

    Points with exact joints, and any that do not settle here, are solved one by one.
    """
    known: dict[int, Branch] = {}
    numbers = [list(map(id, branches)) for branches in points]
    for own, branches in zip(numbers, points, strict=True):
        known.update(zip(own, branches, strict=True))
    joints = {number for number, branch in known.items() if is_joint(branch.law)}
    place = {number: n for n, number in enumerate(number for number in known if number not in joints)}
    together = [n for n, own in enumerate(numbers) if joints.isdisjoint(own)]
    batch = Batch(
        [known[number] for number in place],
        [list(map(place.__getitem__, numbers[n])) for n in together],
        zero,
    )
    found = dict(zip(together, batch.points(), strict=True))
    return [
        solve(branches, zero) if n not in found or found[n].unsettled else found[n]
        for n, branches in enumerate(points)
    ]


class Batch:
    """Operating points of a number of branches, of which some are ``closed`` in each point.

    Attributes
    ----------
    names
        The nodes, sorted.
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

    def __init__(self, branches: Sequence[Branch], closed: Sequence[Sequence[int]], zero: str) -> None:
        for branch in branches:
            check(branch)
            if is_joint(branch.law):
                raise ValueError(f"{' '.join(branch.name)}: exact joints are solved one point at a time")
        self.branches, self.width = branches, len(closed)
        self.closed = [np.fromiter(own, int, len(own)) for own in closed]
        self.there = np.zeros((len(branches), self.width), dtype=bool)
        for column, own in enumerate(self.closed):
            self.there[own, column] = True
        self.names = sorted({zero, *(node for branch in branches for node in (branch.a, branch.b))})
        number = {node: n for n, node in enumerate(self.names)}
        self.zero = number[zero]
        self.a = np.array([number[branch.a] for branch in branches], dtype=int)
        self.b = np.array([number[branch.b] for branch in branches], dtype=int)
        curved = [row for row, branch in enumerate(branches) if not branch.law.is_linear]
        self.curves = Curves([branches[row].law for row in curved])
        self.bent = np.array([curved[i] for i in self.curves.order], dtype=int)
        self.straight = np.array([row for row, b in enumerate(branches) if b.law.is_linear], dtype=int)
        self.outer = self._take_out_linear()
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
        for node, found, is_joined in zip(self.core, newton.solve(), newton.joined(), strict=True):
            volts[node], joined[node] = found, is_joined
        self.outer.put_back(volts)
        self.outer.reach(joined)
        self.volts, self.joined = stacked(volts, self.width), np.array(joined, dtype=bool)
        self.settled, self.rounds = newton.is_settled, newton.rounds
        across = self.volts[self.a] - self.volts[self.b]
        self.amps = np.empty(across.shape)
        self.amps[self.bent] = self.curves.at(across[self.bent])[0]
        laws = [self.branches[row].law for row in self.straight.tolist()]
        siemens = np.array([law.siemens(0.0) for law in laws]).reshape(-1, 1)
        driven = np.array([law.amps(0.0) for law in laws]).reshape(-1, 1)
        self.amps[self.straight] = driven + siemens * across[self.straight]
        self.amps *= self.there

    def _newton(self) -> Newton:
        place = {node: n for n, node in enumerate(self.core)}
        rows, pushed = self.outer.rows, self.outer.pushed
        return Newton(
            [{place[other]: siemens for other, siemens in rows[node].items()} for node in self.core],
            [pushed[node] for node in self.core],
            self.curves,
            np.array([place[node] for node in self.a[self.bent].tolist()], dtype=int),
            np.array([place[node] for node in self.b[self.bent].tolist()], dtype=int),
            self.there[self.bent],
            place[self.zero],
        )

    def points(self) -> list[Point]:
        """Each column as a point of its own."""
        sums = Sums(self.a, self.b, len(self.names))
        residual = np.abs(sums(-self.amps, self.amps)).max(axis=0, initial=0.0).tolist()
        touched = sums(there := self.there.astype(float), there) > 0.0
        in_net = _Named(self.names, self.volts, touched & self.joined)
        afloat = _Named(self.names, self.volts, touched & ~self.joined)
        amp_rows = np.ascontiguousarray(self.amps.T)
        return [
            Point(
                in_net.at(n),
                afloat.at(n),
                amp_rows[n][own].tolist(),
                residual[n],
                int(self.rounds[n]),
                () if self.settled[n] else (("not settled together",),),
            )
            for n, own in enumerate(self.closed)
        ]


class _Named:
    """Volts by name of some nodes, chosen anew for each point."""

    def __init__(self, names: Sequence[str], volts: Array, chosen: Mask) -> None:
        self.names = np.array(names, dtype=object)
        self.volts, self.chosen = np.ascontiguousarray(volts.T), np.ascontiguousarray(chosen.T)
        self.is_any: Mask = np.logical_or.reduce(self.chosen, axis=1)
        self.known: dict[bytes, list[str]] = {}  # few choices are met in many points

    def at(self, point: int) -> dict[str, float]:
        """Those of one point."""
        chosen = self.chosen[point]
        if not self.is_any[point]:
            return {}
        key = chosen.tobytes()
        names = self.known.get(key)
        if names is None:
            names = self.known[key] = self.names[chosen].tolist()
        return dict(zip(names, self.volts[point][chosen].tolist(), strict=True))
