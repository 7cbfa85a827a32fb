"""Contacts that an engine works and that earth its ignition coil: at rest nobody sees how they stand."""

from collections.abc import Mapping

from planner.model.elements import Contact
from planner.model.loom import Loom
from planner.model.part import Part

_COIL_TO_POINTS = "1"  # DIN 72552


def opened_points(loom: Loom, parts: Mapping[str, Part]) -> dict[str, str]:
    """How such conditions of a loom stand when they earth no coil, by their names; nothing without any."""
    found: dict[str, str] = {}
    for place in loom.places.values():
        part = parts[place.part]
        marks = {mark for mark, terminal in part.terminals.items() if terminal.role == _COIL_TO_POINTS}
        for contact in (element for element in part.inside if isinstance(element, Contact)):
            if marks.isdisjoint(contact.join):
                continue
            for name in loom.conditions.keys() & contact.when.keys():
                labels = [position.label for position in loom.conditions[name]]
                opened = next((label for label in labels if label not in contact.when[name]), None)
                if opened is not None:
                    found[name] = opened
    return found


def timed_places(loom: Loom, parts: Mapping[str, Part]) -> tuple[str, ...]:
    """The places of distributors: what turns with the engine goes in as it came out, and is timed again."""
    return tuple(
        name
        for name, place in loom.places.items()
        if opened_points(loom.model_copy(update={"places": {name: place}}), parts)
    )
