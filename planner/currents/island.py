"""One connected part of a network, solved by damped Newton on a sparse network.

Eliminating a node joins its neighbours (star to mesh), which adds only positive numbers: no digits are lost,
however thick one wire and thin another. Chains of linear branches are folded into one first.
"""

from collections.abc import Mapping, Sequence
from heapq import heapify, heappop, heappush

from planner.currents.laws import Emf, Law

MOST_ROUNDS = 80
MOST_CUTS = 40  # of one step
SETTLED_V = 1e-11  # times the highest voltage about: what a last step may still change
ROUNDING = 1e-14  # of conductance times volts at a node: what Kirchhoff's law may miss for lack of digits
GOOD_STEP = 0.5  # a step is far enough when the slope along it has fallen to this share


class Island:
    """One connected part: two nodes and a law for each branch; the root is at 0 V."""

    def __init__(self, root: str, parts: Sequence[tuple[str, str, Law]]) -> None:
        self.root, self.parts = root, parts
        self.volts: dict[str, float] = {root: 0.0}
        self.is_settled = True
        self.linear: dict[str, dict[str, float]] = {}  # node: neighbour: siemens
        self.pushed: dict[str, float] = {}  # A that sources push into a node
        self.curved: list[tuple[str, str, Law]] = []
        for a, b, law in parts:
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
        heap = [(len(graph[node]), node) for node in waiting]
        heapify(heap)
        while heap:
            degree, node = heappop(heap)
            if node not in graph or degree != len(graph[node]):
                continue  # taken already, or it has other neighbours by now and stands there once more
            around = tuple(sorted(graph.pop(node)))
            pattern.append((node, around))
            for other in around:
                graph[other].discard(node)
                graph[other].update(n for n in around if n != other)
                if other != self.root:
                    heappush(heap, (len(graph[other]), other))
        return waiting, pattern

    def _newton(self, nodes: list[str], pattern: list[tuple[str, tuple[str, ...]]]) -> int:
        """Tangent after tangent until nothing moves any more; the number of rounds it took."""
        volts = dict.fromkeys((self.root, *nodes), 0.0)
        slopes = [law.siemens(_first_guess(law)) for _, _, law in self.curved]
        self.volts = volts | self._linear_step(pattern, slopes, self.pushed)
        rounds = 1
        while self.curved:
            rounds += 1
            volts = self.volts
            left = self._left_over(volts)
            slopes = [law.siemens(volts[a] - volts[b]) for a, b, law in self.curved]
            if self._is_rounding(left, slopes):
                break
            # From what is left over: as a difference of volts a small step would have no digits.
            steps = self._linear_step(pattern, slopes, left)
            slope = sum(left[node] * step for node, step in steps.items())
            if max(map(abs, steps.values())) <= SETTLED_V * max(1.0, *map(abs, volts.values())):
                self.volts = volts | {node: volts[node] + step for node, step in steps.items()}
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
        self, pattern: list[tuple[str, tuple[str, ...]]], slopes: Sequence[float], amps: Mapping[str, float]
    ) -> dict[str, float]:
        """Volts with a slope in the place of every curved law, and some amps pushed into the nodes."""
        rows = {node: dict(row) for node, row in self.linear.items()}
        pushed = {self.root: 0.0, **amps}
        for (a, b, _), slope in zip(self.curved, slopes, strict=True):
            self._join(rows, a, b, slope)
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

    def offending(self) -> list[int]:
        """The curved branches, by their place, at the node of theirs that is furthest from settled."""
        left = self._left_over(self.volts)
        curved = (node for a, b, _ in self.curved for node in (a, b) if node in left)
        worst = max(curved, key=lambda node: abs(left[node]))
        return [at for at, (a, b, law) in enumerate(self.parts) if worst in (a, b) and not law.is_linear]


def _first_guess(law: Law) -> float:
    """Volts at which a curved law's first slope is taken: its rated point, or just conducting."""
    return float(getattr(law, "rated_v", 0.0) or getattr(law, "drop_v", 0.0) + 0.1)
