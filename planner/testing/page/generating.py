"""Which readings hang on what a turning motor generates: the second brush of the winding that runs.

How many volts that are nobody knows who has not measured it: they hang on the brushes, the speed, the load.
So no reading that feels them can be called good or wrong.
"""

from collections.abc import Iterator, Mapping

from planner.circuit.appearance import RUNS_FROM
from planner.circuit.fitted import FittedPart
from planner.currents.grid import Grid
from planner.model.elements import Winding
from planner.model.generating import turned_by_another
from planner.model.loom import Loom
from planner.model.part import Part
from planner.testing.page.live import Leaning

FELT_SHARE = 0.05  # of what is generated: a reading that moves by less does not hang on it


class Generating:
    """Knows the windings of one vehicle that another winding of their part turns."""

    def __init__(self, loom: Loom, grid: Grid, parts: Mapping[str, Part]) -> None:
        self._pairs = tuple(_pairs(loom, grid, parts))

    def is_felt(self, leaning: Leaning, at: str, to: str) -> bool:
        """Whether a reading moves with what a turning motor generates."""
        number, amps = leaning.where, leaning.stand.point.amps
        return any(
            abs(leaning.rise(at, to, own)) > FELT_SHARE
            for own, other, least_amps in self._pairs
            if own in number and other in number and abs(amps[number[other]]) > least_amps
        )


def _pairs(loom: Loom, grid: Grid, parts: Mapping[str, Part]) -> Iterator[tuple[int, int, float]]:
    """Yield the branches of a winding and of one that turns it, and the amps from which that one does."""
    for name, place in loom.places.items():
        part = parts[place.part]
        pairs = [(own, other) for own, other, _ in turned_by_another(part)]
        if not pairs:
            continue
        keys = FittedPart(name, part, {}).load_keys
        index = {
            id(part.inside[number]): grid.loads[key]
            for number, key in keys.items()
            if isinstance(part.inside[number], Winding) and key in grid.loads
        }
        for own, other in pairs:
            if id(own) in index and id(other) in index:
                rated_amps = other.watts / (other.volts or part.volts)
                yield index[id(own)], index[id(other)], rated_amps * RUNS_FROM**0.5
