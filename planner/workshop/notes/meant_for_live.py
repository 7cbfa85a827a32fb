"""Terminals meant for a feed that is always live, and given another: said at the step that does it."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.elements import Coil, Contact
from planner.model.loom import split_address
from planner.model.wording import mark_words
from planner.workshop.ends.arrivals import arrivals
from planner.workshop.ends.names import Names
from planner.workshop.tasks.task import Task

_ALWAYS_LIVE = "30"  # DIN 72552: straight from the battery
_NOT_LIVE = ("earth", "switched-earth", "load")


def meant_for_live(names: Names, task: Task) -> Iterator[str]:
    """Yield what has to be known of such a terminal; a relay's contacts may be fed from anywhere."""
    for to, conductor in arrivals(names, task):
        place, mark = split_address(to)
        fitted = names.after.places.get(place)
        part = names.catalogue.parts[fitted.part] if fitted else None
        terminal = part.terminals.get(mark) if part else None
        if part is None or terminal is None or terminal.role != _ALWAYS_LIVE:
            continue
        if any(isinstance(element, Coil) for element in part.inside):
            continue
        nature = names.facts.at(conductor).nature
        if nature == "ignition-live":
            yield tr(
                "{mark} is meant for a feed that is always live, and this one is live with the ignition "
                "only: with the key off the part takes nothing, and keeps nothing in a memory",
                mark=mark_words(mark),
            )
        elif nature in _NOT_LIVE and any(isinstance(element, Contact) for element in part.inside):
            yield tr(
                "{mark} is meant for a feed, and here it gets none, for this switch works in the return as "
                "the old one did: a feed put on it later would be a short",
                mark=mark_words(mark),
            )
