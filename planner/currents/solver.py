"""Operating points: Kirchhoff's laws for one set of closed branches, by damped Newton on a sparse network.

Exact joints are merged, what hangs on by one end only is cut off (no current flows there), chains of linear
branches are folded into one, and what is left is solved. Eliminating a node joins its neighbours (star to
mesh), which adds only positive numbers: no digits are lost, however thick one wire and thin another.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from planner.currents.laws import Emf, Law, Resistance

MOST_ROUNDS = 80
MOST_CUTS = 40  # of one step
SETTLED_V = 1e-11  # times the highest voltage about: what a last step may still change
ROUNDING = 1e-14  # of conductance times volts at a node: what Kirchhoff's law may miss for lack of digits
GOOD_STEP = 0.5  # a step is far enough when the slope along it has fallen to this share


class Branch(NamedTuple):
    """One element between two nodes."""

    name: tuple[str, ...]
    a: str
    b: str
    law: Law


@dataclass(frozen=True, slots=True)
class Point:
    """One operating point.

    ``volts`` are against the zero node; a node that nothing joins to it has none, and stands in ``floating``
    with its volts against some node of its own island. ``amps`` are in the order of the branches, from a to
    b. ``residual_amps`` is the most that Kirchhoff's current law is missed by at any node. ``unsettled``
    names the branches at the nodes where it did not settle.
    """

    volts: Mapping[str, float]
    floating: Mapping[str, float]
    amps: Sequence[float]
    residual_amps: float
    rounds: int
    unsettled: tuple[tuple[str, ...], ...] = ()

    def across(self, branch: Branch) -> float:
        """Volts across a branch, also in an island that floats; 0 where no branch reaches its nodes."""
        for known in (self.volts, self.floating):
            if branch.a in known and branch.b in known:
                return known[branch.a] - known[branch.b]
        return 0.0


def solve(branches: Sequence[Branch], zero: str) -> Point:
    """Solve one network.

    Raises
    ------
    ValueError
        If a source has no resistance of its own, or a resistance is negative.
    """
    for branch in branches:
        _check(branch)
    merged = _Merged(branches, zero)
    volts: dict[str, float] = {}
    rounds = 0
    unsettled: tuple[tuple[str, ...], ...] = ()
    for root, island in merged.islands():
        found = _Island(root, island)
        rounds = max(rounds, found.solve())
        volts |= found.volts
        if not found.is_settled:
            unsettled += tuple(branch.name for branch in found.offending())
    merged.spread(volts)
    amps = merged.currents(volts)
    return Point(*merged.by_node(volts), amps, merged.residual(amps), rounds, unsettled)


def _check(branch: Branch) -> None:
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

    def islands(self) -> list[tuple[str, list[tuple[str, str, Branch]]]]:
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
                out.append((start, [(*self.ends[i], self.branches[i]) for i in indices]))
        return out

    def spread(self, volts: dict[str, float]) -> None:
        """Give what hangs on by one end the volts of what it hangs on, and a source's on top."""
        volts.setdefault(self.zero, 0.0)
        for node, other, lift in reversed(self.cut):
            volts[node] = volts.setdefault(other, 0.0) + lift

    def by_node(self, volts: Mapping[str, float]) -> tuple[dict[str, float], dict[str, float]]:
        """Volts of every node of the branches, merged ones too: those joined to zero, and the others."""
        joined, stack = {self.zero}, [self.zero]
        while stack:
            for index in self.at.get(stack.pop(), ()):
                for node in self.ends[index]:
                    if node not in joined:
                        joined.add(node)
                        stack.append(node)
        names = sorted({node for branch in self.branches for node in (branch.a, branch.b)})
        roots = {name: self.root(name) for name in names}
        return (
            {name: volts[root] for name, root in roots.items() if root in joined},
            {name: volts.get(root, 0.0) for name, root in roots.items() if root not in joined},
        )

    def currents(self, volts: Mapping[str, float]) -> list[float]:
        """Current of every branch; those of joints follow from what flows into their nodes."""
        amps = [0.0] * len(self.branches)
        for index in self.kept:
            a, b = self.ends[index]
            amps[index] = self.branches[index].law.amps(volts[a] - volts[b])
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


class _Island:
    """One connected part: the root is at 0 V."""

    def __init__(self, root: str, parts: list[tuple[str, str, Branch]]) -> None:
        self.root, self.parts = root, parts
        self.volts: dict[str, float] = {root: 0.0}
        self.is_settled = True
        self.linear: dict[str, dict[str, float]] = {}  # node: neighbour: siemens
        self.pushed: dict[str, float] = {}  # A that sources push into a node
        self.curved: list[tuple[str, str, Law]] = []
        for a, b, branch in parts:
            law = branch.law
            for node in (a, b):
                self.linear.setdefault(node, {})
                self.pushed.setdefault(node, 0.0)
            if not law.is_linear:
                self.curved.append((a, b, law))
                continue
            self._join(self.linear, a, b, law.siemens(0.0))
            if isinstance(law, Emf):
                self.pushed[a] += law.volts / law.ohms
                self.pushed[b] -= law.volts / law.ohms

    @staticmethod
    def _join(rows: dict[str, dict[str, float]], a: str, b: str, siemens: float) -> None:
        rows[a][b] = rows[a].get(b, 0.0) + siemens
        rows[b][a] = rows[b].get(a, 0.0) + siemens

    def solve(self) -> int:
        """Find the volts of every node; the number of rounds it took."""
        folded = self._fold()
        order, pattern = self._plan()
        rounds = self._newton(order, pattern)
        for node, total, neighbours in reversed(folded):
            volts = self.pushed[node] + sum(g * self.volts[other] for other, g in neighbours.items())
            self.volts[node] = volts / total
        return rounds

    def _fold(self) -> list[tuple[str, float, dict[str, float]]]:
        """Eliminate linear nodes with two neighbours at most, for good."""
        curved = {node for a, b, _ in self.curved for node in (a, b)} | {self.root}
        rows, pushed = self.linear, self.pushed
        folded = []
        stack = [node for node in rows if node not in curved and len(rows[node]) <= 2]
        while stack:
            node = stack.pop()
            own = rows.get(node)
            if own is None or len(own) > 2:
                continue
            total = sum(own.values())
            folded.append((node, total, own))
            del rows[node]
            for other, siemens in own.items():
                del rows[other][node]
                pushed[other] += pushed[node] * siemens / total
            if len(own) == 2:
                (a, ga), (b, gb) = own.items()
                self._join(rows, a, b, ga * gb / total)
            stack += [other for other in own if other not in curved and len(rows[other]) <= 2]
        return folded

    def _plan(self) -> tuple[list[str], list[tuple[str, tuple[str, ...]]]]:
        """The order of elimination, fewest neighbours first, and the neighbours each then has."""
        graph = {node: set(row) for node, row in self.linear.items()}
        for a, b, _ in self.curved:
            graph[a].add(b)
            graph[b].add(a)
        waiting = sorted(node for node in graph if node != self.root)
        pattern = []
        left = set(waiting)
        while left:
            node = min(left, key=lambda n: (len(graph[n]), n))
            left.discard(node)
            around = tuple(sorted(graph.pop(node)))
            pattern.append((node, around))
            for other in around:
                graph[other].discard(node)
                graph[other].update(n for n in around if n != other)
        return waiting, pattern

    def _newton(self, nodes: list[str], pattern: list[tuple[str, tuple[str, ...]]]) -> int:
        """Tangent after tangent until nothing moves any more; the number of rounds it took."""
        volts = dict.fromkeys((self.root, *nodes), 0.0)
        slopes = [law.siemens(_first_guess(law)) for _, _, law in self.curved]
        self.volts = volts | self._linear_step(pattern, slopes, [0.0] * len(slopes))
        rounds = 1
        while self.curved:
            rounds += 1
            volts = self.volts
            left = self._left_over(volts)
            offsets = []
            for index, (a, b, law) in enumerate(self.curved):
                across = volts[a] - volts[b]
                slopes[index] = slope = law.siemens(across)
                offsets.append(slope * across - law.amps(across))
            if self._is_rounding(left, slopes):
                break
            goal = self._linear_step(pattern, slopes, offsets)
            steps = {node: goal[node] - volts[node] for node in nodes}
            slope = sum(left[node] * step for node, step in steps.items())
            if max(map(abs, steps.values())) <= SETTLED_V * max(1.0, *map(abs, volts.values())):
                self.volts = volts | goal
                break
            if slope <= 0.0:  # only lack of digits can make it so
                break
            self.volts = self._along(steps, slope)
            if rounds >= MOST_ROUNDS:
                self.is_settled = False
                break
        return rounds

    def _along(self, steps: Mapping[str, float], first: float) -> dict[str, float]:
        """Go along a step just far enough; ``first`` is the slope at its beginning.

        As every law rises, the operating point is the lowest point of a bowl (the co-content), and what is
        left over at the nodes times the step is the bowl's slope along it. That falls steadily, and a share
        of the step is sought at which it is small.
        """
        volts = self.volts
        low, high, share = 0.0, 1.0, 1.0
        at_low, at_high = first, 0.0
        for _ in range(MOST_CUTS):
            trial = {node: v + share * steps.get(node, 0.0) for node, v in volts.items()}
            over = self._left_over(trial)
            slope = sum(over[node] * step for node, step in steps.items())
            if abs(slope) <= GOOD_STEP * first or (slope > 0.0 and share == 1.0):
                break
            if slope > 0.0:
                low, at_low = share, slope
            else:
                high, at_high = share, slope
            # Where a straight line would cross, but never at the very edge.
            share = low + (high - low) * min(max(at_low / (at_low - at_high), 0.1), 0.9)
        return trial

    def _is_rounding(self, left: Mapping[str, float], slopes: Sequence[float]) -> bool:
        """Whether what is left over at every node is no more than lack of digits makes it."""
        siemens = {node: sum(row.values()) for node, row in self.linear.items()}
        for (a, b, _), slope in zip(self.curved, slopes, strict=True):
            siemens[a] += slope
            siemens[b] += slope
        most = ROUNDING * max(map(abs, self.volts.values()))
        return all(abs(amps) <= most * siemens[node] for node, amps in left.items())

    def _linear_step(
        self, pattern: list[tuple[str, tuple[str, ...]]], slopes: list[float], offsets: list[float]
    ) -> dict[str, float]:
        """Solve the network with every curved law replaced by its tangent."""
        rows = {node: dict(row) for node, row in self.linear.items()}
        pushed = dict(self.pushed)
        for (a, b, _), slope, offset in zip(self.curved, slopes, offsets, strict=True):
            self._join(rows, a, b, slope)
            pushed[a] += offset
            pushed[b] -= offset
        done = []
        for node, around in pattern:
            own = rows.pop(node)
            total = sum(own.values())
            push = pushed[node]
            done.append((node, total, own))
            for index, other in enumerate(around):
                siemens = own[other]
                row = rows[other]
                del row[node]
                ratio = siemens / total
                pushed[other] += push * ratio
                for third in around[index + 1 :]:
                    mutual = ratio * own[third]
                    row[third] = row.get(third, 0.0) + mutual
                    rows[third][other] = rows[third].get(other, 0.0) + mutual
        volts = {self.root: 0.0}
        for node, total, own in reversed(done):
            volts[node] = (pushed[node] + sum(g * volts[other] for other, g in own.items())) / total
        del volts[self.root]
        return volts

    def _left_over(self, volts: Mapping[str, float]) -> dict[str, float]:
        """What Kirchhoff's current law is missed by at each node, in A: flowing in, not flowing out."""
        left = {}
        for node, row in self.linear.items():
            here = volts[node]
            left[node] = self.pushed[node] - sum(g * (here - volts[other]) for other, g in row.items())
        for a, b, law in self.curved:
            amps = law.amps(volts[a] - volts[b])
            left[a] -= amps
            left[b] += amps
        del left[self.root]
        return left

    def offending(self) -> list[Branch]:
        """The branches at the node that is furthest from settled."""
        left = self._left_over(self.volts)
        worst = max(left, key=lambda node: abs(left[node]))
        return [branch for a, b, branch in self.parts if worst in (a, b) and not branch.law.is_linear]


def _first_guess(law: Law) -> float:
    """Volts at which a curved law's first slope is taken: its rated point, or just conducting."""
    return float(getattr(law, "rated_v", 0.0) or getattr(law, "drop_v", 0.0) + 0.1)
