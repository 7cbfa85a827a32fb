"""Blocks that do not split: many switched arms on one floating node, solved without enumerating them.

Each arm, seen from the hub, is a source and a conductance, so the hub's voltage is one division whatever the
arms do, and every result is a straight line in it. The arms are decided one after another, the heaviest
first; as soon as the hub's voltage is known so well that no result can leave its class, the arms that are
left need no deciding. What comes out is exact as to classes (the limits in ``planner.circuit.appearance``),
not as to currents: each current stands for all of its class.

With the hub at a share x of the supply a result is ``at_zero + x * (at_one - at_zero)``, what it is with the
hub at zero and at the supply; of an arm without a feed ``at_zero`` is nothing. The currents out of the hub
add up to nothing, which gives x: the source that the fed arms are, over the conductance of all.
"""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass

from planner.circuit.tree import Branch, Forest, Leaf, Split, Tree

FEWEST_VARIABLES = 4  # below this plain branching is quicker
FEWEST_ARMS = 3
# Hub voltages this close count as one, so that equal blocks stay one object; a share of the supply.
LIKENESS = 1e-12
STRAIGHT = ("load", "amps", "through", "volt")  # kinds of results that follow the hub's voltage


@dataclass(frozen=True, slots=True)
class Arm:
    """What hangs on the hub, solved with the hub held at the supply and (if it has a feed) at zero.

    ``at_one`` and ``at_zero`` are trees; ``amps_key`` and ``zero_key`` name the current out of the hub.
    """

    at_one: Tree
    at_zero: Tree | None


@dataclass(frozen=True, slots=True)
class _Range:
    """Least and greatest conductance and source current of a tree's leaves (per volt of supply)."""

    least: float
    most: float


class HubSolver:
    """Combines the arms of one hub into a tree."""

    def __init__(
        self,
        forest: Forest,
        volts: float,
        limits: Mapping[int, tuple[float, ...]],
        kinds: list[tuple[object, ...]],
        hub_keys: tuple[int, int],
    ) -> None:
        self.forest, self.volts, self.limits, self.kinds = forest, volts, limits, kinds
        self.one_key, self.zero_key = hub_keys
        self.points = 0
        self._ranges: dict[int, _Range] = {}
        self._lines: dict[int, tuple[tuple[int, float], ...]] = {}
        self._at_share: dict[tuple[int, float], Tree] = {}

    def solve(self, arms: list[Arm]) -> Tree:
        """The tree of all arms together."""
        fed = [arm for arm in arms if arm.at_zero is not None]
        free = sorted((arm for arm in arms if arm.at_zero is None), key=lambda a: -self._range(a.at_one).most)
        pending: list[tuple[Tree, bool]] = []
        for arm in fed:
            assert arm.at_zero is not None
            pending += [(arm.at_one, True), (arm.at_zero, False)]
        pending += [(arm.at_one, True) for arm in free]
        pending.reverse()
        return self._build(tuple(pending), {}, (), 0.0, 0.0, 2 * len(fed))

    def _build(
        self,
        pending: tuple[tuple[Tree, bool], ...],
        decided: Mapping[int, int],
        leaves: tuple[tuple[Leaf, bool], ...],
        conductance: float,
        source: float,
        still_fed: int,
    ) -> Tree:
        """Decide what is pending (last first); ``still_fed`` trees of fed arms are left.

        Only once there is none (0 or less) is the source known, and with it between what the hub can be.
        """
        while pending:
            if still_fed <= 0:
                settled = self._settled(pending, leaves, conductance, source)
                if settled is not None:
                    return settled
            (tree, at_one), pending = pending[-1], pending[:-1]
            still_fed -= 1
            while isinstance(tree, Branch) and tree.variable in decided:
                tree = tree.children[decided[tree.variable]]
            if isinstance(tree, Split):
                pending += tuple((child, at_one) for child in tree.children)
                still_fed += len(tree.children) if still_fed >= 0 else 0
            elif isinstance(tree, Branch):
                children = tuple(
                    self._build(
                        (*pending, (child, at_one)),
                        {**decided, tree.variable: value},
                        leaves,
                        conductance,
                        source,
                        still_fed + 1,
                    )
                    for value, child in enumerate(tree.children)
                )
                return self.forest.branch(tree.variable, children)
            else:
                g, i = self._terms(tree, at_one)
                conductance, source = conductance + g, source + i
                leaves = (*leaves, (tree, at_one))
        self.points += 1
        share = source / conductance if conductance > 0.0 else 0.0
        return self._leaf(leaves, share)

    def _terms(self, leaf: Leaf, at_one: bool) -> tuple[float, float]:
        """Conductance, and source current per volt of supply, that a leaf adds at the hub."""
        amps = leaf.values.get(self.one_key if at_one else self.zero_key, 0.0) / self.volts
        return (amps, 0.0) if at_one else (-amps, -amps)

    def _range(self, tree: Tree) -> _Range:
        """Conductance of a free arm's leaves."""
        found = self._ranges.get(id(tree))
        if found is None:
            if isinstance(tree, Leaf):
                g = tree.values.get(self.one_key, 0.0) / self.volts
                found = _Range(g, g)
            else:
                parts = [self._range(child) for child in tree.children]
                if isinstance(tree, Branch):
                    found = _Range(min(p.least for p in parts), max(p.most for p in parts))
                else:
                    found = _Range(sum(p.least for p in parts), sum(p.most for p in parts))
            self._ranges[id(tree)] = found
        return found

    def _settled(
        self,
        pending: tuple[tuple[Tree, bool], ...],
        leaves: tuple[tuple[Leaf, bool], ...],
        conductance: float,
        source: float,
    ) -> Tree | None:
        """The rest at once if no class can change any more, else None."""
        least = conductance + sum(self._range(tree).least for tree, _ in pending)
        most = conductance + sum(self._range(tree).most for tree, _ in pending)
        if least <= 0.0:
            return None
        high, low = source / least, source / most
        if high - low > LIKENESS:
            for key, slope, offset in self._sums(leaves):
                if self._class_of(key, offset + slope * high) != self._class_of(key, offset + slope * low):
                    return None
            for tree, _ in pending:
                for key, slope in self._all_lines(tree):
                    if self._class_of(key, slope * high) != self._class_of(key, slope * low):
                        return None
        self.points += 1
        parts = [self._leaf(leaves, low)]
        parts += [self._scaled(tree, low) for tree, _ in pending]
        return self.forest.split(parts)

    def _all_lines(self, tree: Tree) -> tuple[tuple[int, float], ...]:
        """Every (key, slope) of a free arm's leaves, each once."""
        found = self._lines.get(id(tree))
        if found is None:
            if isinstance(tree, Leaf):
                pairs = {(k, v) for k, v in tree.values.items() if self.kinds[k][0] in STRAIGHT}
            else:
                pairs = {pair for child in tree.children for pair in self._all_lines(child)}
            found = self._lines[id(tree)] = tuple(sorted(pairs))
        return found

    def _sums(self, leaves: tuple[tuple[Leaf, bool], ...]) -> list[tuple[int, float, float]]:
        """Slope and offset of every straight result over the hub's share of the supply."""
        slopes: dict[int, float] = {}
        offsets: dict[int, float] = {}
        for leaf, at_one in leaves:
            for key, value in leaf.values.items():
                if self.kinds[key][0] in STRAIGHT:
                    slopes[key] = slopes.get(key, 0.0) + (value if at_one else -value)
                    if not at_one:
                        offsets[key] = offsets.get(key, 0.0) + value
        return [(key, slope, offsets.get(key, 0.0)) for key, slope in slopes.items()]

    def _class_of(self, key: int, value: float) -> tuple[int, bool]:
        limits = self.limits.get(key)
        if limits is None:
            return (0, value != 0.0 and self.kinds[key][0] == "volt")
        place = bisect_right(limits, abs(value))
        return (place, place > 0 and value < 0.0)

    def _representative(self, key: int, value: float) -> float:
        """One value for all of a class; 0 for what nobody judges."""
        limits = self.limits.get(key)
        if limits is None:
            is_potential = self.kinds[key][0] == "volt" and value != 0.0
            return self.volts if is_potential else 0.0
        place = bisect_right(limits, abs(value))
        if place == 0:
            return 0.0
        upper = limits[place] if place < len(limits) else limits[-1] * 2
        middle = (limits[place - 1] + upper) / 2
        return -middle if value < 0.0 else middle

    def _leaf(self, leaves: tuple[tuple[Leaf, bool], ...], share: float) -> Tree:
        values: dict[int, float] = {}
        for key, slope, offset in self._sums(leaves):
            value = self._representative(key, offset + slope * share)
            if value:
                values[key] = value
        for leaf, at_one in leaves:
            if at_one:
                values |= {k: v for k, v in leaf.values.items() if self.kinds[k][0] not in STRAIGHT}
        return self.forest.leaf(values)

    def _scaled(self, tree: Tree, share: float) -> Tree:
        """A free arm's tree at a settled hub voltage; most arms meet few voltages."""
        found = self._at_share.get((id(tree), share))
        if found is None:
            if isinstance(tree, Leaf):
                found = self._leaf(((tree, True),), share)
            else:
                children = [self._scaled(child, share) for child in tree.children]
                if isinstance(tree, Branch):
                    found = self.forest.branch(tree.variable, tuple(children))
                else:
                    found = self.forest.split(children)
            self._at_share[id(tree), share] = found
        return found
