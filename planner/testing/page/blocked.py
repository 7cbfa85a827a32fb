"""Which readings of ohms hold whatever meter reads them, and which way round its tips have to be.

Many meters have too few volts on ohms for a diode; others, pointer meters first, have enough, on the highest
range for a few LEDs in series too: so their plus goes where every diode blocks. What electronics have without
supply nobody foretells. Common practice, no source.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence

from planner.circuit.fitted import FittedPart
from planner.currents.laws import SHARP_BELOW_V, Emf, Junction, Resistance
from planner.currents.solver import Branch
from planner.model.elements import Resistor, Stabiliser
from planner.model.loom import Loom
from planner.model.part import Part
from planner.testing.page.dead import DeadNet, dead_branches
from planner.testing.page.excited import is_excited
from planner.testing.page.no_lamp import branches_of, is_electronic
from planner.testing.page.points import solve_sets

MOST_TEST_V, METER_OHMS = 12.0, 1000.0  # the most of a meter that makes diodes conduct: 9 V and two cells
_Is = Callable[[float], bool]


def electronic(loom: Loom, parts: Mapping[str, Part]) -> frozenset[tuple[str, ...]]:
    """The branches of one vehicle that stand for electronics: without supply they are no resistance."""
    return frozenset(
        name
        for place, fitted in loom.places.items()
        for name in _electronic(FittedPart(place, parts[fitted.part], {}))
    )


def _electronic(part: FittedPart) -> Iterator[tuple[str, ...]]:
    """Yield those of one part: an apparatus, a field behind a regulator, a stabiliser."""
    for number, element in enumerate(part.part.inside):
        if isinstance(element, Stabiliser):
            yield from branches_of(part, number)
        elif isinstance(element, Resistor) and (is_electronic(element) or is_excited(part.part, element)):
            yield ("load", *part.load_keys[number])


class Blocked:
    """The diodes of one dead vehicle, and what its electronics do to readings; in ``dead`` is neither."""

    def __init__(self, closed: Sequence[Branch], names: frozenset[tuple[str, ...]]) -> None:
        self.electronic = names
        self.dead = [branch for branch in dead_branches(closed) if branch.name not in names]
        self._diodes = [
            branch
            for branch in closed
            if isinstance(branch.law, Junction) and branch.law.drop_v >= SHARP_BELOW_V
        ]
        forward = [
            b._replace(law=Resistance(b.law.ohms)) for b in self._diodes if isinstance(b.law, Junction)
        ]
        self._without, self._joined = DeadNet(self.dead), DeadNet([*self.dead, *forward])

    def plus(self, at: str, to: str, is_good: _Is) -> str | None:
        """The tip on which the meter's plus has to be for a good reading: "" for either, None if neither."""
        if not is_good(self._without.ohms(at, to)):
            return None  # it hangs on electronics
        if is_good(self._joined.ohms(at, to)):
            return ""
        good = [plus for plus, minus in ((at, to), (to, at)) if is_good(self.read(plus, minus))]
        return "" if len(good) > 1 else good[0] if good else None

    def read(self, plus: str, minus: str) -> float:
        """Ohms as a meter reads them that has volts enough for diodes."""
        meter = Branch(("meter",), plus, minus, Emf(MOST_TEST_V, METER_OHMS))
        (point,) = solve_sets([[meter, *self.dead, *self._diodes]], minus)
        amps = -point.amps[0]
        return point.across(meter) / amps if amps > 0.0 else float("inf")
