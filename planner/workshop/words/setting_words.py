"""How a switch that a gearbox works is set where it is screwed on: common practice, no source."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import Fit
from planner.model.elements import Contact
from planner.model.wording import mark_words
from planner.workshop.ends.names import Names

_FAMILY = "gearbox-switch"


def setting_words(names: Names, operation: Fit) -> Iterator[str]:
    """Yield how a new gearbox switch is set before it is tight: which contact is closed in which gear."""
    part = names.catalogue.parts[operation.place.part]
    if part.family != _FAMILY:
        return
    for contact in (element for element in part.inside if isinstance(element, Contact)):
        one, other = (mark_words(mark) for mark in contact.join)
        gears = tr(" or ").join(label for labels in contact.when.values() for label in labels)
        yield tr(
            "before its wires are on, its screws not tight yet, set it with a meter on ohms: next to nothing "
            "from {one} to {other} with the lever at {gears}, open at every other; then tight, and once more",
            one=one,
            other=other,
            gears=gears,
        )
