"""What has to do with the engine's oil pressure: what sits in the oil way, and what shows its pressure."""

from planner.model.elements import Contact, Gauge, Lamp, Led, Sender
from planner.model.part import Part

_ROLE = "oil-sender"


def sits_in_oil(part: Part) -> bool:
    """Whether a part is screwed into the oil way: a sender, or the switch of a warning lamp."""
    return _has_role(part) and any(isinstance(element, Sender | Contact) for element in part.inside)


def shows_oil(part: Part) -> bool:
    """Whether a part shows the oil pressure: its gauge, or the warning lamp."""
    return _has_role(part) and any(isinstance(element, Gauge | Lamp | Led) for element in part.inside)


def _has_role(part: Part) -> bool:
    return any(terminal.role == _ROLE for terminal in part.terminals.values())
