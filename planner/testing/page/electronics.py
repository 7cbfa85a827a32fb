"""Electronics on what a test touches: no lamp with a battery of its own goes there, it might destroy them."""

from collections.abc import Iterable, Mapping

from planner.model.elements import AnyElement, Diode, Flasher, Led, Resistor
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor

HEATER_WATTS = 20.0  # a resistor that does something and takes less is an apparatus: a radio, a module


def have_electronics(loom: Loom, parts: Mapping[str, Part], tips: Iterable[str]) -> bool:
    """Whether a part with electronics inside has a terminal on the conductor of one of some tips."""
    places = {split_address(end)[0] for tip in tips for end in conductor(loom, tip)}
    fitted = (parts[loom.places[name].part] for name in places if name in loom.places)
    return any(_is_electronic(element) for part in fitted for element in part.inside)


def _is_electronic(element: AnyElement) -> bool:
    """A light-emitting lamp, a diode, an electronic flasher, an apparatus that a resistor stands for."""
    if isinstance(element, Flasher):
        return element.kind == "electronic"
    if isinstance(element, Resistor):
        return element.does is not None and (element.watts or 0.0) < HEATER_WATTS
    return isinstance(element, Led) or (isinstance(element, Diode) and not element.is_cut_out)
