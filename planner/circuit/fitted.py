"""A part fitted at a place: the full names of its terminals, variables and loads."""

from collections.abc import Mapping
from functools import cached_property

from planner.model.elements import AnyElement, Coil, Diode, Flasher, Gauge, Lamp, Led, Resistor, Winding
from planner.model.part import Part

Guard = tuple[tuple[str, frozenset[str]], ...]  # every variable must have one of its values
LoadKey = tuple[str, str]  # place, what it does


class FittedPart:
    """Names things of one part the way the whole network calls them; both views of the circuit use it."""

    def __init__(self, place: str, part: Part, called: Mapping[str, str]) -> None:
        """``called`` gives what the loom calls a variable of the part, if not as the part does."""
        self.place, self.part, self.called = place, part, called

    def variable(self, name: str) -> str:
        """Full name of a variable as the part calls it."""
        return f"{self.place}/{self.called.get(name, name)}" if name in self.part.variables else name

    def node(self, name: str) -> str:
        """Node of a terminal or inner node of the part."""
        return f"{self.place}:{name}" if name in self.part.terminals else f"{self.place}::{name}"

    def guard(self, when: Mapping[str, tuple[str, ...]]) -> Guard:
        """A contact's condition with full variable names."""
        return tuple(sorted((self.variable(name), frozenset(values)) for name, values in when.items()))

    @cached_property
    def load_keys(self) -> Mapping[int, LoadKey]:
        """The key of each load by its place among the elements; a second one of a name gets its number."""
        keys: dict[int, LoadKey] = {}
        names: set[str] = set()
        for index, element in enumerate(self.part.inside):
            if is_load(element):
                name = getattr(element, "does", None) or f"#{index}"
                keys[index] = (self.place, name if name not in names else f"{name} ({index})")
                names.add(name)
        return keys


def is_load(element: AnyElement) -> bool:
    """Whether an element takes current and is told by its own key; a flasher does by its heater."""
    if isinstance(element, Flasher):
        return element.heater_ohms is not None
    return isinstance(element, Lamp | Winding | Resistor | Coil | Led | Gauge | Diode)


def full_guard(when: Mapping[str, tuple[str, ...]]) -> Guard:
    """A condition whose names are full already."""
    return tuple(sorted((name, frozenset(values)) for name, values in when.items()))
