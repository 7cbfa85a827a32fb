"""Few readings that show as much as all: greedy by what each shows for its trouble, then thinned out."""

from collections.abc import Callable, Mapping, Sequence

from planner.testing.page.probes import Probe

# Trouble, against one reading at a terminal one stands at: common practice, no source.
NEW_SETUP, NEW_PLACE, VOLTS, OHMS = 3.0, 1.0, 1.0, 0.7
Shown = Mapping[Probe, frozenset[str]]


def choose(shown: Shown, must: Sequence[Probe]) -> list[Probe]:
    """Probes that together show every mistake that any of them shows; those that must be taken come first."""
    chosen = list(must)
    left = frozenset().union(*shown.values()) if shown else frozenset()
    for probe in chosen:
        left -= shown[probe]
    waiting = [probe for probe in shown if probe not in chosen]
    while left:
        best = max(waiting, key=lambda p: len(shown[p] & left) / trouble(p, chosen))
        chosen.append(best)
        waiting.remove(best)
        left -= shown[best]
    return _thinned(chosen, must, shown)


def trouble(probe: Probe, chosen: Sequence[Probe]) -> float:
    """What a reading takes beside those that are taken anyhow."""
    cost = OHMS if probe.setup is None else VOLTS
    if probe.setup is not None and all(other.setup is not probe.setup for other in chosen):
        cost += NEW_SETUP
    if all(other.setup is not probe.setup or place(other) != place(probe) for other in chosen):
        cost += NEW_PLACE
    return cost


def place(probe: Probe) -> str:
    """Where one stands."""
    return probe.at.partition(":")[0]


def _thinned(chosen: list[Probe], must: Sequence[Probe], shown: Shown) -> list[Probe]:
    """Without those whose mistakes the others show as well, the latest choice first."""
    kept = list(chosen)
    for probe in reversed(chosen):
        others = frozenset().union(*(shown[p] for p in kept if p is not probe))
        if probe not in must and shown[probe] <= others:
            kept.remove(probe)
    return kept


def in_order(
    probes: Sequence[Probe], places: Sequence[str], apart: Callable[[Probe, Probe], int]
) -> list[Probe]:
    """Dead ones first, then setup after setup with the fewest switches to move; in each by place."""
    rank = {name: number for number, name in enumerate(places)}
    groups: dict[object, list[Probe]] = {}
    for probe in probes:
        groups.setdefault(probe.setup, []).append(probe)
    ordered = sorted(groups.pop(None, []), key=lambda p: rank.get(place(p), len(rank)))
    while groups:
        last = ordered[-1] if ordered else None
        key = min(groups, key=lambda k: apart(last, groups[k][0]) if last else 0)
        ordered += sorted(groups.pop(key), key=lambda p: rank.get(place(p), len(rank)))
    return ordered
