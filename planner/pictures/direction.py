"""Which way each leg of a graph is drawn: from where current comes, as far as that is plain."""

from collections import deque

from planner.pictures.graph import Graph, Hook, OutlineKind

# What a conductor is followed from, first of all; the body and ends that are tied back come last.
_FIRST: dict[OutlineKind, int] = {"feed": 0, "part": 1, "joint": 2, "unknown": 3, "loose": 4, "earth": 5}


def flow(graph: Graph) -> tuple[bool, ...]:
    """Whether each leg is turned: drawn from its last end to its first."""
    at: dict[Hook, list[tuple[int, int]]] = {}
    for number, leg in enumerate(graph.legs):
        for end, hook in enumerate(leg.ends):
            at.setdefault(hook, []).append((number, end))
    kinds = {outline.key: outline.kind for outline in graph.outlines}
    ranks = {outline.key: outline.ranks for outline in graph.outlines}
    turned: dict[int, bool] = {}

    def first(hook: Hook) -> tuple[int, float]:
        return _FIRST[kinds[hook.outline]], ranks[hook.outline].get(hook.slot, 50.0)

    for start in sorted(at, key=first):
        queue = deque([start])
        while queue:
            hook = queue.popleft()
            for number, end in at[hook]:
                if number not in turned:
                    turned[number] = end == 1
                    queue.append(graph.legs[number].ends[1 - end])
    return tuple(turned[number] for number in range(len(graph.legs)))


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
