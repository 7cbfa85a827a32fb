"""What of the vehicle works a part, by what works the others of its family: a pedal, a door, pressure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from planner.model.elements import Contact
from planner.model.part import Part


@dataclass(frozen=True, slots=True)
class WorkedBy:
    """A condition of the vehicle, and which value of it each of the person's positions is."""

    condition: str
    value: str
    values: Mapping[str, str]

    def said(self, element: Mapping[str, Any]) -> dict[str, Any]:
        """An element whose ``when`` has the person's positions, with the values of the condition instead."""
        when = {
            name: [self.values[label] for label in labels] for name, labels in element.get("when", {}).items()
        }
        return dict(element) | ({"when": when} if when else {})


def worked_by(kin: Sequence[Part], positions: Sequence[str]) -> WorkedBy | None:
    """What works all of some parts, if one of two positions is called as its one value; None if nothing does.

    The other position keeps the person's word: a loom calls what is not that as it likes.
    """
    if len(positions) != 2 or any(part.variables for part in kin):
        return None
    waited = {
        (name, label)
        for part in kin
        for element in part.inside
        if isinstance(element, Contact)
        for name, labels in element.when.items()
        for label in labels
    }
    if len(waited) != 1:
        return None
    ((condition, value),) = waited
    values = {name: value if name.casefold() == value.casefold() else name for name in positions}
    return WorkedBy(condition, value, values) if list(values.values()).count(value) == 1 else None
