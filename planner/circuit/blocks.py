"""What becomes of a network's items when a variable is decided: some vanish, and what is left falls apart."""

from collections.abc import Iterable

from planner.circuit.items import FEED, OHMS, PASS, WATCH, Item


def joined_to_zero(items: Iterable[Item]) -> set[int]:
    """Nodes that fuses join to the earthed pole, the pole itself among them."""
    joints = [item[1:3] for item in items if item[0] == PASS]
    joined = {0}
    grown = True
    while grown:
        grown = False
        for a, b in joints:
            if (a in joined) != (b in joined):
                joined |= {a, b}
                grown = True
    return joined


def restrict(items: Iterable[Item], variable: int, value: int) -> list[Item]:
    """What is left of items once a variable has a value: guards that it meets are lifted, the others' go."""
    out: list[Item] = []
    for item in items:
        guard = item[3]
        for index, (v, mask) in enumerate(guard):
            if v == variable:
                if mask >> value & 1:
                    out.append((*item[:3], guard[:index] + guard[index + 1 :], *item[4:]))
                break
        else:
            out.append(item)
    return out


def prune(items: list[Item]) -> list[Item]:
    """Drop what hangs on a free node alone: no current can ever flow there."""
    while True:
        degree: dict[int, int] = {}
        for item in items:
            kind, a, b = item[:3]
            if a > 0:
                degree[a] = degree.get(a, 0) + (2 if kind == FEED else 1)
            if b > 0 and b != a:
                degree[b] = degree.get(b, 0) + 1
        kept = [
            item
            for item in items
            if item[0] in (FEED, WATCH) or not (degree.get(item[1]) == 1 or degree.get(item[2]) == 1)
        ]
        if len(kept) == len(items):
            return items
        items = kept


def components(items: list[Item]) -> Iterable[tuple[Item, ...]]:
    """Split at fixed nodes; yield each block that can do anything, sorted."""
    parent: dict[int, int] = {}

    def find(node: int) -> int:
        root = node
        while (up := parent.get(root, root)) != root:
            root = up
        while parent.get(node, node) != root:
            parent[node], node = root, parent.get(node, node)
        return root

    for item in items:
        a, b = item[1], item[2]
        if a > 0 and b > 0:
            ra, rb = find(a), find(b)
            if ra != rb:
                parent[ra] = rb
    blocks: dict[tuple[int, ...], list[Item]] = {}
    for item in items:
        a, b = item[1], item[2]
        if a > 0:
            blocks.setdefault((find(a),), []).append(item)
        elif b > 0:
            blocks.setdefault((find(b),), []).append(item)
        else:
            blocks.setdefault((a, b, -1), []).append(item)
    for block in blocks.values():
        if not _can_act(block):
            continue
        joints = [item for item in block if item[0] != OHMS]
        if len(joints) < len(block) and not _is_fed(block):
            # Nothing flows, so loads join nothing: only what ties a watched node to the earthed pole is left.
            yield from components(prune(joints))
        else:
            yield tuple(sorted(block))


def _is_fed(block: Iterable[Item]) -> bool:
    """Whether a block meets a live pole, or does in some position."""
    return any(item[0] == FEED or item[1] < 0 or item[2] < 0 for item in block)


def _can_act(block: list[Item]) -> bool:
    """Whether a block can carry current, short, tie two feeds, or has a node somebody watches."""
    zero = watched = loaded = False
    live: set[int] = set()
    for item in block:
        kind, a, b = item[:3]
        if kind == WATCH:
            watched = True
            continue
        if kind == FEED:
            live.add(item[4])
            zero = zero or a == 0
        elif b == 0:
            zero = True
        if a == 0:
            zero = True
        live.update(node for node in (a, b) if node < 0)
        loaded = loaded or kind == OHMS
    if not live:
        return zero and watched  # nothing flows, but a watched node may be earthed
    return zero or watched or len(live) > 1


def decide(items: tuple[Item, ...]) -> int | None:
    """The variable that gates the most: contacts next to a pole count with all that hangs behind them."""
    degree: dict[int, int] = {}
    for item in items:
        for node in (item[1], item[2]):
            degree[node] = degree.get(node, 0) + 1
    score: dict[int, int] = {}
    for item in items:
        guard = item[3]
        if not guard:
            continue
        kind, a, b = item[:3]
        weight = 1
        if kind == FEED:
            weight += 4 * degree[a]
        elif a < 0 < b:
            weight += 4 * degree[b]
        elif b < 0 < a:
            weight += 4 * degree[a]
        for variable, _ in guard:
            score[variable] = score.get(variable, 0) + weight
    if not score:
        return None
    return max(score, key=lambda v: (score[v], -v))
