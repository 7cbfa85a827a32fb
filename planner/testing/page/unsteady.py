"""What a machine has inside while it stands still: nobody foretells it, so no reading of ohms hangs on it.

A motor is known by the amps with which it runs; at rest it has a part of those ohms, or through worn brushes
more. A horn's winding lies behind the contact that it breaks, a dynamo's behind brushes, its field behind the
contacts of the regulator. Common practice, no source.
"""

from collections.abc import Iterator, Mapping

from planner.circuit.fitted import FittedPart
from planner.model.elements import SPARK, Contact, Resistor, Winding
from planner.model.loom import Loom
from planner.model.part import Part

_GENERATING = frozenset({"generator", "regulator"})  # families


def unsteady(loom: Loom, parts: Mapping[str, Part]) -> frozenset[tuple[str, ...]]:
    """The branches of one vehicle that stand for what has brushes or contacts of its own in it."""
    return frozenset(
        name
        for place, fitted in loom.places.items()
        for name in _of_part(FittedPart(place, parts[fitted.part], {}))
    )


def _of_part(part: FittedPart) -> Iterator[tuple[str, ...]]:
    """Yield those of one part; the windings of an ignition coil have their ohms in its papers."""
    is_generating = part.part.family in _GENERATING
    for number, element in enumerate(part.part.inside):
        is_winding = isinstance(element, Winding) and element.does != SPARK
        if is_winding or (is_generating and isinstance(element, Resistor)):
            yield ("load", *part.load_keys[number])
        elif is_generating and isinstance(element, Contact):
            joints = range(len(element.join) - 1)
            yield from (("contact", part.place, str(number), str(joint)) for joint in joints)
