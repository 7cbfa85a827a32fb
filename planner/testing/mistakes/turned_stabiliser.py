"""A gauge stabiliser with feed and gauges each on the other's terminal: it holds nothing, all comes through.

A bimetal one has its contact closed until it is warm, an electronic one may let everything through backwards.
Common practice, no source.
"""

from planner.currents.grid import Gated
from planner.currents.laws import Resistance
from planner.currents.resistances import CONTACT_OHMS
from planner.currents.solver import Branch
from planner.model.delta import EndRef
from planner.model.elements import Stabiliser
from planner.model.loom import split_address
from planner.model.part import Part
from planner.testing.mistakes.mistake import Change, EndAt


def traded_on(part: Part, one: EndRef, at: str, other: EndRef, there: str) -> Change:
    """Two ends on a part each on the other's terminal, and what becomes of a stabiliser between these."""
    place, marks = split_address(at)[0], {split_address(at)[1], split_address(there)[1]}
    turned = [
        str(number)
        for number, element in enumerate(part.inside)
        if isinstance(element, Stabiliser) and set(element.between) == marks
    ]
    through = Resistance(CONTACT_OHMS)
    return Change(
        ends=(EndAt(*one, there), EndAt(*other, at)),
        gone=tuple(("stabiliser", place, number) for number in turned),
        added=tuple(Gated(Branch(("turned", place, number), at, there, through), ()) for number in turned),
    )
