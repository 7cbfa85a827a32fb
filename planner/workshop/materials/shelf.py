"""What lies on the bench of small things, taken from it piece by piece."""

from collections.abc import Sequence

from planner.model.bench_sheet import Use
from planner.model.job import StockThing


class Shelf:
    """Terminals, sleeves, fuses and the like; what fits the fewest sizes is taken first."""

    def __init__(self, things: Sequence[StockThing]) -> None:
        # A terminal without sizes fits any: it is kept for what nothing else fits.
        ordered = sorted(things, key=lambda thing: (not thing.mm2, len(thing.mm2)))
        self._left = [(thing, [thing.count]) for thing in ordered]

    def uses(self, steps: Sequence[int], wanted: StockThing | None) -> tuple[Use, ...]:
        """One piece for each step that needs one, from the shelf as long as something there fits."""
        return tuple(Use(step, 1, self._take(wanted) if wanted else 0) for step in sorted(steps))

    def _take(self, wanted: StockThing) -> int:
        for thing, left in self._left:
            if left[0] and _fits(thing, wanted):
                left[0] -= 1
                return 1
        return 0


def _fits(thing: StockThing, wanted: StockThing) -> bool:
    sizes = set(wanted.mm2)
    return (thing.kind, thing.fitting, thing.ways, thing.amps, thing.part) == (
        wanted.kind,
        wanted.fitting,
        wanted.ways,
        wanted.amps,
        wanted.part,
    ) and (not thing.mm2 or sizes <= set(thing.mm2))
