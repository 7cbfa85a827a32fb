"""What has to do with the engine's oil pressure: what sits in the oil way, and what shows its pressure."""

from collections.abc import Mapping

from planner.model.elements import Contact, Gauge, Lamp, Led, Sender
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor

_ROLE = "oil-sender"


def sits_in_oil(part: Part) -> bool:
    """Whether a part is screwed into the oil way: a sender, or the switch of a warning lamp."""
    return _has_role(part) and any(isinstance(element, Sender | Contact) for element in part.inside)


def shows_oil(part: Part) -> bool:
    """Whether a part shows the oil pressure: its gauge, or the warning lamp."""
    return _has_role(part) and any(isinstance(element, Gauge | Lamp | Led) for element in part.inside)


def warns_of_oil(part: Part) -> bool:
    """Whether a part has the warning lamp of the oil pressure."""
    return any(isinstance(element, Lamp | Led) for element in _on_oil(part))


def is_gauge_on_a_switch(loom: Loom, parts: Mapping[str, Part], place: str) -> bool:
    """Whether an oil gauge has no sender on its wire: all it can do is jump to an end of its scale."""
    part = parts[loom.places[place].part]
    if not any(isinstance(element, Gauge) for element in _on_oil(part)):
        return False
    beyond = {split_address(at)[0] for mark in _marks(part) for at in conductor(loom, f"{place}:{mark}")}
    others = (parts[loom.places[name].part] for name in beyond & loom.places.keys() - {place})
    return not any(isinstance(element, Sender) for other in others for element in other.inside)


def _on_oil(part: Part) -> list[Gauge | Lamp | Led]:
    """What of a part shows the pressure: it hangs on the terminal of the sender or switch."""
    marks = _marks(part)
    shown = [element for element in part.inside if isinstance(element, Gauge | Lamp | Led)]
    return [element for element in shown if marks & set(element.between)]


def _marks(part: Part) -> set[str]:
    return {mark for mark, terminal in part.terminals.items() if terminal.role == _ROLE}


def _has_role(part: Part) -> bool:
    return bool(_marks(part))
