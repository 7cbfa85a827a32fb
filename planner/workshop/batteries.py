"""What is said of a battery whose other post gets earthed."""

from collections.abc import Iterator

from planner.messages import tr
from planner.model.delta import ChangeSupply, Move
from planner.model.elements import Source
from planner.model.loom import split_address
from planner.workshop.names import Names


def turned_round(operation: ChangeSupply) -> Iterator[str]:
    """Yield that the old battery serves where its volts stay and only the other pole is earthed."""
    if operation.supply.volts == operation.old.volts and operation.supply.earthed != operation.old.earthed:
        yield tr("a sound battery serves again, turned so that its other post is the earthed one")


def other_clamp(names: Names, move: Move) -> Iterator[str]:
    """Yield that a lead that goes on the other post gets another clamp."""
    place = split_address(move.to)[0]
    if is_battery(names, place) and split_address(move.was)[0] == place and move.was != move.to:
        yield tr("with a clamp for that post on it, for the posts differ in thickness")


def is_battery(names: Names, place: str) -> bool:
    """Whether a place has a battery, whose posts take clamps."""
    fitted = names.after.places.get(place)
    inside = names.catalogue.parts[fitted.part].inside if fitted else ()
    return any(isinstance(element, Source) and not element.when for element in inside)
