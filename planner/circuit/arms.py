"""Finding the hub of a block: the one floating node on which independent arms hang."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from planner.circuit.hub import FEWEST_ARMS, FEWEST_VARIABLES
from planner.circuit.items import FEED, OHMS, PASS, TIE, WATCH, Item

MOST_STEPS = 2000  # of the walk that looks for a way to a pole; beyond it every variable of the arm counts
_CENTRE = 1 << 60  # stands for all nodes of the hub in that walk
HUB_AT_SUPPLY, HUB_AT_ZERO = "hub at supply", "hub at zero"


@dataclass(frozen=True, slots=True)
class Hub:
    """Nodes that are one through fuses, and the arms that hang on them; arms share no variable."""

    nodes: frozenset[int]
    arms: tuple[tuple[Item, ...], ...]

    def held(self, arm: Iterable[Item], label: int) -> list[Item]:
        """An arm with the hub held by a label."""
        return [
            (
                item[0],
                label if item[1] in self.nodes else item[1],
                label if item[2] in self.nodes else item[2],
                *item[3:],
            )
            for item in arm
        ]


def find_hub(
    items: tuple[Item, ...], hub_labels: Collection[int], fuse_labels: Collection[int]
) -> Hub | int | None:
    """The hub of a block; a variable to decide first if an arm can tie the hub to a pole; None if none.

    Blocks with diodes or feeds that come and go are left to branching, and so is what hangs on a hub that is
    being solved.
    """
    variables = {v for item in items for v, _ in item[3]}
    if len(variables) < FEWEST_VARIABLES:
        return None
    for kind, a, b, _, _, _, drop in items:
        if kind == FEED or (kind == OHMS and drop >= 0.0) or a in hub_labels or b in hub_labels:
            return None
    joined = _joined_by_fuses(items, fuse_labels)
    degree: dict[int, int] = {}
    for item in items:
        for node in {joined.get(n, n) for n in item[1:3] if n > 0}:
            degree[node] = degree.get(node, 0) + 1
    centre = max(degree, key=lambda n: (degree[n], -n))
    nodes = frozenset({centre} | {n for n, root in joined.items() if root == centre})
    arms = _arms(items, nodes)
    if len(arms) < FEWEST_ARMS:
        return None
    tying = [variable for arm in arms for variable in _tying(arm, nodes)]
    if tying:
        return max(set(tying), key=lambda v: (tying.count(v), -v))
    return Hub(nodes, tuple(arms))


def _joined_by_fuses(items: tuple[Item, ...], fuse_labels: Collection[int]) -> dict[int, int]:
    """Free nodes that fuses make one, by the least of them."""
    parent: dict[int, int] = {}

    def find(node: int) -> int:
        while node in parent:
            node = parent[node]
        return node

    for kind, a, b, guard, label, _, _ in items:
        if kind == PASS and not guard and label in fuse_labels and a > 0 and b > 0:
            ra, rb = find(a), find(b)
            if ra != rb:
                parent[max(ra, rb)] = min(ra, rb)
    return {node: find(node) for node in parent}


def _arms(items: tuple[Item, ...], nodes: frozenset[int]) -> list[tuple[Item, ...]]:
    """What falls apart when the hub is taken out, grouped so that no two arms share a variable."""
    parent: dict[int, int] = {}

    def find(name: int) -> int:
        while (up := parent.get(name)) is not None:
            name = up
        return name

    groups: dict[int, list[Item]] = {}
    named: list[tuple[int, Item]] = []
    alone = 1 << 60  # names what hangs between the hub and poles, without node or variable of its own
    for item in items:
        if item[1] in nodes and item[2] in nodes and item[0] != WATCH:
            continue
        # Nodes are positive, so variables go by negative numbers.
        names = [node for node in item[1:3] if node > 0 and node not in nodes]
        names += [-1 - variable for variable, _ in item[3]]
        if not names:
            alone += 1
            names.append(alone)
        first = find(names[0])
        for name in names[1:]:
            other = find(name)
            if other != first:
                parent[other] = first
        named.append((first, item))
    for name, item in named:
        groups.setdefault(find(name), []).append(item)
    return [tuple(group) for group in groups.values()]


def _tying(arm: tuple[Item, ...], nodes: frozenset[int]) -> frozenset[int]:
    """Variables on a way without load from the hub to a pole that can be closed at once; empty if none."""
    beside: dict[int, list[tuple[int, Item]]] = {}
    for item in arm:
        if item[0] in (TIE, PASS):
            a, b = (_CENTRE if node in nodes else node for node in item[1:3])
            beside.setdefault(a, []).append((b, item))
            beside.setdefault(b, []).append((a, item))
    stack: list[tuple[int, frozenset[int], dict[int, int]]] = [(_CENTRE, frozenset((_CENTRE,)), {})]
    steps = 0
    while stack:
        here, passed, masks = stack.pop()
        for there, item in beside.get(here, ()):
            steps += 1
            together = _together(masks, item[3])
            if together is None or there in passed:
                continue
            if there <= 0:
                return frozenset(together)
            if steps > MOST_STEPS:
                return frozenset(variable for other in arm for variable, _ in other[3])
            stack.append((there, passed | {there}, together))
    return frozenset()


def _together(masks: dict[int, int], guard: tuple[tuple[int, int], ...]) -> dict[int, int] | None:
    """The masks with one more guard; None if they can not all hold."""
    out = masks
    for variable, mask in guard:
        both = out.get(variable, mask) & mask
        if not both:
            return None
        out = {**out, variable: both}
    return out
