"""Few readings that show as much as all: greedy by what each shows for its trouble, then thinned out."""

from collections.abc import Callable, Mapping, Sequence

from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup

# Trouble, against one reading at a terminal one stands at: common practice, no source.
NEW_SETUP, NEW_PLACE, VOLTS, OHMS = 3.0, 1.0, 1.0, 0.7
CRANKING = 30.0  # an engine that turns: only for what nothing else shows
Shown = Mapping[Probe, frozenset[str]]


def choose(shown: Shown, must: Sequence[Probe], cranking: frozenset[Setup] = frozenset()) -> list[Probe]:
    """Probes that together show every mistake that any of them shows; those that must be taken come first.

    In ``cranking`` setups the engine turns.
    """
    taken = _Taken(must, cranking)
    held = _as_bits(shown)
    left = 0
    for bits in held.values():
        left |= bits
    for probe in must:
        left &= ~held[probe]
    waiting = {probe: bits for probe, bits in held.items() if probe not in must}
    while left:
        waiting = {probe: bits for probe, bits in waiting.items() if bits & left}
        best = max(waiting, key=lambda p: ((waiting[p] & left).bit_count() / taken.trouble(p), -moved(p)))
        taken.add(best)
        left &= ~waiting.pop(best)
    return _thinned(taken.probes, must, held)


class _Taken:
    """The readings that are taken, and what one more takes beside them."""

    def __init__(self, probes: Sequence[Probe], cranking: frozenset[Setup]) -> None:
        self.probes: list[Probe] = []
        self._cranking = cranking
        self._setups: set[Setup | None] = {None}
        self._spots: set[tuple[Setup | None, str]] = set()
        for probe in probes:
            self.add(probe)

    def add(self, probe: Probe) -> None:
        """Take a reading."""
        self.probes.append(probe)
        self._setups.add(probe.setup)
        self._spots.add((probe.setup, place(probe)))

    def trouble(self, probe: Probe) -> float:
        """What a reading takes beside those that are taken anyhow."""
        cost = OHMS if probe.setup is None else VOLTS
        cost += NEW_SETUP * (probe.setup not in self._setups) + CRANKING * (probe.setup in self._cranking)
        return cost + NEW_PLACE * ((probe.setup, place(probe)) not in self._spots)


def _as_bits(shown: Shown) -> dict[Probe, int]:
    """What each probe shows as a number with a bit for each mistake."""
    names = sorted(frozenset().union(*shown.values()))
    bit = {name: 1 << n for n, name in enumerate(names)}
    return {probe: sum(bit[name] for name in own) for probe, own in shown.items()}


def moved(probe: Probe) -> int:
    """How many controls are moved for a reading."""
    return len(probe.setup.name) if probe.setup else 0


def place(probe: Probe) -> str:
    """Where one stands."""
    return probe.at.partition(":")[0]


def _thinned(chosen: list[Probe], must: Sequence[Probe], held: Mapping[Probe, int]) -> list[Probe]:
    """Without those whose mistakes the others show as well, the latest choice first."""
    kept = list(chosen)
    for probe in reversed(chosen):
        others = 0
        for other in kept:
            others |= held[other] if other is not probe else 0
        if probe not in must and not held[probe] & ~others:
            kept.remove(probe)
    return kept


def in_order(
    probes: Sequence[Probe],
    places: Sequence[str],
    stage: Callable[[Probe], int],
    apart: Callable[[Probe, Probe], int],
) -> list[Probe]:
    """Dead ones first, then by stage, setup after setup with the fewest switches to move; each by place."""
    rank = {name: number for number, name in enumerate(places)}
    groups: dict[object, list[Probe]] = {}
    for probe in probes:
        groups.setdefault(probe.setup, []).append(probe)
    ordered = sorted(groups.pop(None, []), key=lambda p: rank.get(place(p), len(rank)))
    while groups:
        last = ordered[-1] if ordered else None
        key = min(groups, key=lambda k: (stage(groups[k][0]), apart(last, groups[k][0]) if last else 0))
        ordered += sorted(groups.pop(key), key=lambda p: rank.get(place(p), len(rank)))
    return ordered
