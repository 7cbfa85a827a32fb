"""Which way each leg of a graph is drawn: from where current comes, as far as that is plain."""

from collections import deque
from collections.abc import Sequence

from planner.pictures.graph import WHENS, Graph, Hook, OutlineKind

# What a conductor is followed from, first of all; the body and ends that are tied back come last.
_FIRST: dict[OutlineKind, int] = {"feed": 0, "part": 1, "joint": 2, "unknown": 3, "loose": 4, "earth": 5}
_SOURCE = -99.0  # as a rank: every wire of a battery begins there, that of its earthed post too


def flow(graph: Graph) -> tuple[bool, ...]:
    """Whether each leg is turned: drawn from its last end to its first.

    Conductors are followed in the loom after the work, then in the one before: never from one into the other.
    """
    turned: dict[int, bool] = {}
    for when in reversed(WHENS):
        _follow(graph, [n for n, leg in enumerate(graph.legs) if leg.look(when)], turned)
    return tuple(turned[number] for number in range(len(graph.legs)))


def _follow(graph: Graph, legs: Sequence[int], turned: dict[int, bool]) -> None:
    """Follow some legs from where current comes, and note which way each goes that has no way yet."""
    at: dict[Hook, list[tuple[int, int]]] = {}
    for number in legs:
        for end, hook in enumerate(graph.legs[number].ends):
            at.setdefault(hook, []).append((number, end))
    outlines = {outline.key: outline for outline in graph.outlines}

    def first(hook: Hook) -> tuple[int, float, bool]:
        outline = outlines[hook.outline]
        rank = outline.ranks.get(hook.slot, 50.0)
        return _FIRST[outline.kind], min(rank, _SOURCE) if outline.is_source else rank, not outline.is_swapped

    seen: set[int] = set()
    for start in sorted(at, key=first):
        queue = deque([start])
        while queue:
            hook = queue.popleft()
            for number, end in at[hook]:
                if number not in seen:
                    seen.add(number)
                    turned.setdefault(number, end == 1)
                    queue.append(graph.legs[number].ends[1 - end])


def gathered(graph: Graph) -> tuple[bool, ...]:
    """The same, but legs between the same two outlines all go the way that most of them go.

    So what goes to and fro between two parts takes no more room across than what goes to.
    """
    turned = list(flow(graph))
    first: dict[frozenset[str], list[str]] = {}
    for leg, is_turned in zip(graph.legs, turned, strict=True):
        pair = [hook.outline for hook in leg.ends]
        first.setdefault(frozenset(pair), []).append(pair[is_turned])
    for number, leg in enumerate(graph.legs):
        one, other = (hook.outline for hook in leg.ends)
        begins = first[frozenset((one, other))]
        most = max(dict.fromkeys(begins), key=begins.count)
        if one != other:
            turned[number] = most == other
    return tuple(turned)
