"""Operating points: Kirchhoff's laws for one set of closed branches, by damped Newton on a sparse network.

Exact joints are merged, what hangs on by one end only is cut off (no current flows there), chains of linear
branches are folded into one, and what is left is solved: ``island`` does that for each connected part.
"""

from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple, Protocol

from planner.currents.amps import NO_AMPS, Amps
from planner.currents.flowing import flowing_in
from planner.currents.island import Island
from planner.currents.laws import Emf, Law, Resistance


class Branch(NamedTuple):
    """One element between two nodes."""

    name: tuple[str, ...]
    a: str
    b: str
    law: Law


class Beyond(Protocol):
    """The nodes of a point whose volts follow from those of others."""

    @property
    def nodes(self) -> Sequence[str]:
        """All nodes, sorted."""
        ...

    def reaches(self, node: str) -> bool:
        """Whether any branch reaches a node."""
        ...

    def root(self, node: str) -> tuple[str, float]:
        """The node that one hangs on in the end, and the volts that it has over that."""
        ...


@dataclass(frozen=True)
class Point:
    """One operating point.

    ``numbers`` has the volts of nodes at the place that ``places`` says: against the zero node, or for a
    node that is ``afloat``, joined to it by nothing, against some node of its own island. A place of -1 is
    that of a node which nothing reaches. ``amps`` are in the order of the branches, from a to b.
    ``residual_amps`` is the most that Kirchhoff's current law is missed by at any node. ``unsettled`` names
    the branches at the nodes where it did not settle. What has no place hangs on others: ``beyond``.
    """

    places: Mapping[str, int]
    numbers: Sequence[float]
    afloat: AbstractSet[str]
    amps: Sequence[float]
    residual_amps: float
    rounds: int
    unsettled: tuple[tuple[str, ...], ...] = ()
    beyond: Beyond | None = None

    @cached_property
    def volts(self) -> Mapping[str, float]:
        """By node, of those that are joined to zero."""
        return {node: volts for node, volts, joined in self._all() if joined}

    @cached_property
    def floating(self) -> Mapping[str, float]:
        """By node, of those that are not."""
        return {node: volts for node, volts, joined in self._all() if not joined}

    def _all(self) -> Iterator[tuple[str, float, bool]]:
        for node in dict.fromkeys((*(self.beyond.nodes if self.beyond else ()), *self.places)):
            found = self.at(node)
            if found is not None:
                yield node, *found

    def at(self, node: str) -> tuple[float, bool] | None:
        """Volts of a node, and whether it is joined to zero; None where no branch reaches it."""
        beyond, lift = self.beyond, 0.0
        place = self.places.get(node)
        if beyond is not None and (place is None or node in self.afloat):
            if not beyond.reaches(node):
                return None
            if place is None:
                node, lift = beyond.root(node)
                place = self.places.get(node)
                if place is None:
                    return lift, False
        if place is None or place < 0:
            return None
        return self.numbers[place] + lift, node not in self.afloat

    def across(self, branch: Branch) -> float:
        """Volts across a branch, also in an island that floats; 0 where no branch reaches its nodes."""
        a, b = self.places.get(branch.a, -1), self.places.get(branch.b, -1)
        if a >= 0 and b >= 0 and branch.a not in self.afloat and branch.b not in self.afloat:
            return self.numbers[a] - self.numbers[b]
        one, other = self.at(branch.a), self.at(branch.b)
        if one is None or other is None or one[1] != other[1]:
            return 0.0
        return one[0] - other[0]


def solve(branches: Sequence[Branch], zero: str) -> Point:
    """Solve one network.

    Raises
    ------
    ValueError
        If a source has no resistance of its own, or a resistance is negative.
    """
    for branch in branches:
        check(branch)
    merged = _Merged(branches, zero)
    volts: dict[str, float] = {}
    flowing: dict[int, float] = {}
    rounds = 0
    unsettled: tuple[tuple[str, ...], ...] = ()
    for root, island in merged.islands():
        found = Island(root, [(*merged.ends[index], branches[index].law) for index in island])
        rounds = max(rounds, found.solve())
        volts |= found.volts
        flowing |= zip(island, flowing_in(found), strict=True)
        if not found.is_settled:
            unsettled += tuple(branches[island[at]].name for at in found.offending())
    merged.spread(volts)
    amps = merged.currents(flowing)
    known = merged.by_node(volts)
    places = {node: at for at, node in enumerate(known)}
    return Point(
        places, list(known.values()), merged.afloat(known), amps, merged.residual(amps), rounds, unsettled
    )


def solve_closed(branches: Sequence[Branch], closed: Sequence[int], zero: str) -> Point:
    """Solve a network of which some branches are closed; the others carry nothing."""
    point = solve([branches[index] for index in closed], zero)
    live = [(index, own) for index, own in zip(closed, point.amps, strict=True) if abs(own) > NO_AMPS]
    amps = Amps(array("i", [index for index, _ in live]), array("d", [own for _, own in live]), len(branches))
    return replace(point, amps=amps)


def check(branch: Branch) -> None:
    """Refuse a source without resistance and a negative resistance, by name."""
    law = branch.law
    if isinstance(law, Emf) and law.ohms <= 0:
        raise ValueError(f"{' '.join(branch.name)}: a source needs a resistance of its own, got {law.ohms:g}")
    if isinstance(law, Resistance) and law.ohms < 0:
        raise ValueError(f"{' '.join(branch.name)}: a resistance cannot be negative, got {law.ohms:g}")


def is_joint(law: Law) -> bool:
    """Whether a law is an exact joint."""
    return isinstance(law, Resistance) and law.ohms == 0


class _Merged:
    """The network with exact joints merged."""

    def __init__(self, branches: Sequence[Branch], zero: str) -> None:
        self.branches = branches
        self.parent: dict[str, str] = {}
        self.tree: list[int] = []  # joints that merge something: their currents follow from the rest
        for index, branch in enumerate(branches):
            if is_joint(branch.law):
                a, b = self.root(branch.a), self.root(branch.b)
                if a != b:
                    self.parent[a] = b
                    self.tree.append(index)
        self.zero = self.root(zero)
        self.ends = [(self.root(b.a), self.root(b.b)) for b in branches]
        self.at: dict[str, list[int]] = {}
        for index, (a, b) in enumerate(self.ends):
            if a != b:
                self.at.setdefault(a, []).append(index)
                self.at.setdefault(b, []).append(index)
        # A node that hangs on another and the volts it has over it, in the order of cutting.
        self.cut: list[tuple[str, str, float]] = []
        self.kept = self._trim()

    def root(self, node: str) -> str:
        """The node that stands for another."""
        while (up := self.parent.get(node)) is not None:
            node = up
        return node

    def _trim(self) -> set[int]:
        """The branches current may flow in."""
        kept = {index for index, (a, b) in enumerate(self.ends) if a != b}
        degree = {node: len(indices) for node, indices in self.at.items()}
        stack = [node for node, count in degree.items() if count == 1 and node != self.zero]
        while stack:
            node = stack.pop()
            if degree[node] != 1:
                continue
            index = next(i for i in self.at[node] if i in kept)
            kept.discard(index)
            a, b = self.ends[index]
            other = b if node == a else a
            degree[node], degree[other] = 0, degree[other] - 1
            law = self.branches[index].law
            lift = law.volts if isinstance(law, Emf) else 0.0
            self.cut.append((node, other, lift if node == a else -lift))
            if degree[other] == 1 and other != self.zero:
                stack.append(other)
        return kept

    def islands(self) -> list[tuple[str, list[int]]]:
        """Connected parts with current in them, each with the node its volts count from."""
        seen: set[str] = set()
        out = []
        for start in dict.fromkeys((self.zero, *(a for a, _ in self.ends))):
            if start in seen:
                continue
            nodes, stack = [start], [start]
            seen.add(start)
            indices: dict[int, None] = {}
            while stack:
                node = stack.pop()
                for index in self.at.get(node, ()):
                    if index not in self.kept:
                        continue
                    indices[index] = None
                    a, b = self.ends[index]
                    other = b if node == a else a
                    if other not in seen:
                        seen.add(other)
                        nodes.append(other)
                        stack.append(other)
            if indices:
                out.append((start, list(indices)))
        return out

    def spread(self, volts: dict[str, float]) -> None:
        """Give what hangs on by one end the volts of what it hangs on, and a source's on top."""
        volts.setdefault(self.zero, 0.0)
        for node, other, lift in reversed(self.cut):
            volts[node] = volts.setdefault(other, 0.0) + lift

    def by_node(self, volts: Mapping[str, float]) -> dict[str, float]:
        """Volts of every node of the branches, merged ones too."""
        names = sorted({node for branch in self.branches for node in (branch.a, branch.b)})
        return {name: volts.get(self.root(name), 0.0) for name in names}

    def afloat(self, names: Iterable[str]) -> frozenset[str]:
        """Those of some nodes that nothing joins to zero."""
        joined, stack = {self.zero}, [self.zero]
        while stack:
            for index in self.at.get(stack.pop(), ()):
                for node in self.ends[index]:
                    if node not in joined:
                        joined.add(node)
                        stack.append(node)
        return frozenset(name for name in names if self.root(name) not in joined)

    def currents(self, flowing: Mapping[int, float]) -> list[float]:
        """Current of every branch; those of joints follow from what flows into their nodes."""
        amps = [flowing.get(index, 0.0) for index in range(len(self.branches))]
        for index, (a, b) in enumerate(self.ends):
            if a == b and not is_joint(self.branches[index].law):  # bridged by joints: a source is shorted
                amps[index] = self.branches[index].law.amps(0.0)
        into: dict[str, float] = {}
        for branch, current in zip(self.branches, amps, strict=True):
            into[branch.a] = into.get(branch.a, 0.0) - current
            into[branch.b] = into.get(branch.b, 0.0) + current
        left = set(self.tree)
        joints: dict[str, set[int]] = {}
        for index in left:
            for node in (self.branches[index].a, self.branches[index].b):
                joints.setdefault(node, set()).add(index)
        stack = sorted(node for node, own in joints.items() if len(own) == 1)
        while stack:
            node = stack.pop()
            if len(joints[node]) != 1:
                continue
            (index,) = joints[node]
            branch = self.branches[index]
            other = branch.b if node == branch.a else branch.a
            amps[index] = into[node] if node == branch.a else -into[node]
            into[other] += into[node]
            joints[node].clear()
            joints[other].discard(index)
            if len(joints[other]) == 1:
                stack.append(other)
        return amps

    def residual(self, amps: Sequence[float]) -> float:
        """The most by which the currents at a node do not add up, in A."""
        sums: dict[str, float] = {}
        for branch, current in zip(self.branches, amps, strict=True):
            sums[branch.a] = sums.get(branch.a, 0.0) - current
            sums[branch.b] = sums.get(branch.b, 0.0) + current
        return max((abs(left) for left in sums.values()), default=0.0)
