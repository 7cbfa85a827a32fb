"""The choice once currents count: the lightest loom that stands them, repaired where that helps."""

import heapq
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import count

from planner.engine.judged import Judged, signature
from planner.engine.weight import Weight
from planner.model.need import Fault
from planner.model.strain import INTOLERABLE

MOST_STRAINED = 6  # looms whose currents are computed before the search stops and says so; of small looms
MOST_STRAINED_WIRES = 600  # as many as have this many wires together, since each takes the less time,
MOST_STRAINED_SMALL = 48  # but no more than these, nor of any loom while the best so far is intolerable
MOST_REPAIRS = 8  # of one loom, one after another


class Withstanding:
    """Strains judged looms, the lightest so far first, since only what would be accepted needs it.

    ``strained`` gives a judged loom with its strains among its faults; ``is_answered`` tells whether a rule
    has a repair for a fault of a loom; ``repairs`` gives looms in which one of some faults of a loom is
    answered, if they can be lighter than the best. ``wires`` is how many the loom has. Afterwards
    ``stopped_at`` is how many looms were strained, if there would have been more.
    """

    def __init__(
        self,
        strained: Callable[[Judged], Judged],
        is_answered: Callable[[Judged, Fault], bool],
        repairs: Callable[[Judged, Judged, Sequence[Fault]], Iterable[Judged]],
        wires: int,
    ) -> None:
        self._strained, self._is_answered, self._repairs = strained, is_answered, repairs
        share = MOST_STRAINED_WIRES // max(1, wires)
        self._most = min(max(MOST_STRAINED, share), MOST_STRAINED_SMALL)
        self._tickets = count()
        self._queue: list[tuple[Weight, int, Judged, bool]] = []  # the last: whether it is strained
        self._known: set[object] = set()
        self._repaired: list[Judged] = []
        self.stopped_at: int | None = None

    def lightest(self, judged: Iterable[Judged]) -> Judged:
        """Return the lightest of the judged looms, or of their repairs, when strains count as well."""
        for item in judged:
            self._push(item, is_strained=False)
        while True:
            _, _, item, is_strained = heapq.heappop(self._queue)
            if not is_strained:
                self._strain(item)
                continue
            best = item
            if item in self._repaired or not strains(item):
                # Heavier looms come up later, but one that takes less time may have the lighter repair.
                waiting = [entry for entry in self._queue if self._may_have_lighter_repair(entry, best)]
                if not waiting:
                    return best
                item = min(waiting)[2]
            self._repaired.append(item)
            self._push(best, is_strained=True)  # it comes up once more when none of the repairs is lighter
            for child in self._repairs(item, best, strains(item)):
                self._push(child, is_strained=False)

    def _push(self, item: Judged, *, is_strained: bool) -> None:
        heapq.heappush(self._queue, (item.weight, next(self._tickets), item, is_strained))

    def _strain(self, item: Judged) -> None:
        """Strain a loom and put it back by what it then weighs; past the limit, drop what is not strained."""
        key = signature(item.candidate.loom)
        if key in self._known or item.candidate.repairs > MOST_REPAIRS:
            return
        if len(self._known) >= self._limit():
            self.stopped_at = len(self._known)
            self._queue = [entry for entry in self._queue if entry[3]]
            heapq.heapify(self._queue)
            return
        self._known.add(key)
        self._push(self._strained(item), is_strained=True)

    def _limit(self) -> int:
        """How many looms may be strained: more, while every one so far is intolerable."""
        is_one_tolerable = any(is_strained and _is_tolerable(item) for _, _, item, is_strained in self._queue)
        return self._most if is_one_tolerable else MOST_STRAINED_SMALL

    def _may_have_lighter_repair(self, entry: tuple[Weight, int, Judged, bool], best: Judged) -> bool:
        """Whether a strained loom could be lighter than the best, once what is wrong only with it is cured.

        What no rule answers in the best is no fault of that loom alone: it is reckoned to stay here as well.
        """
        _, _, item, is_strained = entry
        if not is_strained or item in self._repaired:
            return False
        inherent = set() if self._is_any_answered(best) else {fault.identity for fault in strains(best)}
        stay = [fault for fault in item.faults if not fault.strain or fault.identity in inherent]
        return replace(item, faults=tuple(stay)).weight < best.weight

    def _is_any_answered(self, item: Judged) -> bool:
        return any(self._is_answered(item, fault) for fault in strains(item))


def strains(item: Judged) -> tuple[Fault, ...]:
    """Return the strains among the faults of a judged loom."""
    return tuple(fault for fault in item.faults if fault.strain)


def _is_tolerable(item: Judged) -> bool:
    return not any(fault.strain and fault.strain.kind in INTOLERABLE for fault in item.faults)
