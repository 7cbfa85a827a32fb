"""Which fuse of a box without known roles takes over from which: what one bus feeds shares one feed."""

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from itertools import product
from math import log

from planner.engine.case import Case
from planner.model.loom import Loom
from planner.model.part import Part
from planner.model.reach import FuseWay, conductor, fuse_ways, joined_inside

SHARED = 100.0  # a circuit that has no fuse of its own any more weighs more than any other amps
MOVED = 0.01  # another place in the row decides only between fuses of equal amps
MOST_FUSES = 12  # the choice among more takes too long

Choice = tuple[float, tuple[tuple[int, int], ...]]


def buses(part: Part, ways: Sequence[FuseWay]) -> list[tuple[int, ...]]:
    """The numbers of the fuses that the part itself feeds together, a tuple for each such group."""
    fed = [joined_inside(part, way.sides[0]) for way in ways]
    groups = {tuple(n for n, other in enumerate(fed) if other & group) for group in fed}
    return sorted(group for group in groups if len(group) > 1)


def matching_fuses(case: Case, place: str) -> Mapping[int, int]:
    """The number of each old fuse in use, and of the new one for it: no bus joins what two feeds fed.

    As many circuits as can be keep a fuse of their own, then amps come nearest, then places in the row are
    kept. A circuit that is left over shares the strongest fuse on its own feed.
    """
    old, new = case.old_part(place), case.part(place)
    before, now = (fuse_ways(loom, case.catalogue, place) for loom in (case.before, case.loom))
    used = [n for n, w in enumerate(before) if any(f"{place}:{m}" in case.before.ends_at for m in w.sides)]
    if old is None or new is None or max(len(used), len(now)) > MOST_FUSES:
        return {}
    feeds = {n: _feed(case.before, old, place, before[n].sides[0]) for n in used}
    groups = buses(new, now)
    choices = []
    for owners in product(sorted(set(feeds.values())), repeat=len(groups)):
        owner = {n: feed for group, feed in zip(groups, owners, strict=True) for n in group}

        def cost(o: int, n: int, owner: Mapping[int, str] = owner) -> float | None:
            if owner.get(n, feeds[o]) != feeds[o]:
                return None
            return abs(log(before[o].amps / now[n].amps)) + MOVED * (o != n)

        choices.append(_cheapest(tuple(used), len(now), cost))
    matched = dict(min(choices)[1])
    for number in used:
        beside = [n for o, n in matched.items() if feeds[o] == feeds[number]]
        if number not in matched and beside:
            matched[number] = max(beside, key=lambda n: now[n].amps)
    return matched


def _feed(before: Loom, old: Part, place: str, mark: str) -> str:
    """A name for the feed of a fuse: the first address of all that wires and the old part join to it."""
    found = {f"{place}:{mark}"}
    while True:
        inside = {
            f"{place}:{m}"
            for at in found
            if at.startswith(f"{place}:")
            for m in joined_inside(old, at.removeprefix(f"{place}:"))
        }
        grown = {other for at in found | inside for other in conductor(before, at)}
        if grown <= found:
            return min(found)
        found |= grown


def _cheapest(used: tuple[int, ...], count: int, cost: Callable[[int, int], float | None]) -> Choice:
    """The cheapest way to give each old fuse a new one of its own, or none."""

    @cache
    def rest(index: int, taken: int) -> Choice:
        if index == len(used):
            return 0.0, ()
        here = used[index]
        alone, others = rest(index + 1, taken)
        best = (SHARED + alone, others)
        for n in range(count):
            price = None if taken >> n & 1 else cost(here, n)
            if price is not None:
                more, others = rest(index + 1, taken | 1 << n)
                best = min(best, (price + more, ((here, n), *others)))
        return best

    return rest(0, 0)
