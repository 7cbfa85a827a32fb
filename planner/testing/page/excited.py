"""The field of an alternator behind its own regulator, as a reading at D+ feels it with the engine off.

What it drops hangs on the regulator, of which no catalogue tells the kind: a mechanical one leaves the
winding alone, an electronic one has two transistors in its way besides. So any of them is good. Common
practice, no source.
"""

from collections.abc import Iterator, Mapping

from planner.circuit.fitted import FittedPart
from planner.currents.laws import Junction, Resistance
from planner.currents.solver import Branch
from planner.model.elements import Resistor
from planner.model.loom import Loom
from planner.model.part import Part

TRANSISTORS_V = 1.2  # the most that those of a regulator drop before they let the field have current
WINDING_SHARE = 0.4  # of what a catalogue gives for field and regulator: the least that the winding alone has
_GENERATOR, _CHARGE_LAMP = "generator", "61"  # a family, and a role of DIN 72552


def excited(loom: Loom, parts: Mapping[str, Part]) -> frozenset[tuple[str, ...]]:
    """The branches of one vehicle that stand for such a field."""
    return frozenset(
        ("load", *key)
        for place, fitted in loom.places.items()
        for key in _of_part(FittedPart(place, parts[fitted.part], {}))
    )


def _of_part(part: FittedPart) -> Iterator[tuple[str, str]]:
    for number, element in enumerate(part.part.inside):
        if isinstance(element, Resistor) and is_excited(part.part, element):
            yield part.load_keys[number]


def is_excited(part: Part, element: Resistor) -> bool:
    """Whether a resistor stands for the field of an alternator behind its regulator."""
    terminals = (part.terminals.get(name) for name in element.between)
    roles = {terminal.role for terminal in terminals if terminal}
    return part.family == _GENERATOR and _CHARGE_LAMP in roles


def with_most(field: Branch, amps: float, times: float) -> Branch:
    """The field with all that a regulator may drop, the way its current goes; and so many times its ohms."""
    assert isinstance(field.law, Resistance)
    law = Junction(TRANSISTORS_V, field.law.ohms * times)
    a, b = (field.a, field.b) if amps >= 0.0 else (field.b, field.a)
    return Branch(field.name, a, b, law)


def with_least(field: Branch) -> Branch:
    """The winding of the field alone."""
    assert isinstance(field.law, Resistance)
    return field._replace(law=Resistance(field.law.ohms * WINDING_SHARE))
