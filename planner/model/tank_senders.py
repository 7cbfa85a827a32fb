"""The sender of a fuel tank: what sits in a hole of the tank, and moves with what is in it."""

from collections.abc import Mapping

from planner.model.elements import Sender
from planner.model.loom import Loom
from planner.model.part import Part

_ROLE = "fuel-sender"


def tank_sender(part: Part) -> Sender | None:
    """What a part has inside that follows the fuel, if it sits in a tank; a gauge only has its terminal."""
    if all(terminal.role != _ROLE for terminal in part.terminals.values()):
        return None
    return next((element for element in part.inside if isinstance(element, Sender)), None)


def opened_tanks(before: Loom, after: Loom, parts: Mapping[str, Part]) -> tuple[str, ...]:
    """The places at which the sender of a tank comes out of it, or goes into it."""
    both = (
        (name, before.places.get(name), after.places.get(name)) for name in {**before.places, **after.places}
    )
    return tuple(
        name
        for name, was, now in both
        if (was.part if was else None) != (now.part if now else None)
        and any(each is not None and tank_sender(parts[each.part]) for each in (was, now))
    )
