"""Batteries whose other post gets earthed, and the clamps that go on posts."""

from collections.abc import Iterator, Mapping

from planner.messages import tr
from planner.model.delta import ChangeSupply, Fit, Insert, Move
from planner.model.elements import Source
from planner.model.loom import split_address
from planner.workshop.ends.names import Names


def turned_round(operation: ChangeSupply) -> Iterator[str]:
    """Yield that the old battery serves where its volts stay and only the other pole is earthed."""
    if operation.supply.volts == operation.old.volts and operation.supply.earthed != operation.old.earthed:
        yield tr("a sound battery serves again, turned so that its other post is the earthed one")


def other_clamp(names: Names, move: Move) -> Iterator[str]:
    """Yield that a lead that goes on the other post gets another clamp, one for all that go on that post."""
    if not _changes_posts(names, move):
        return
    numbers = (
        number
        for number, other in enumerate((task.operation for task in names.ordered), 1)
        if isinstance(other, Move) and other.to == move.to and _changes_posts(names, other)
    )
    first = next(numbers)
    if names.ordered[first - 1].operation == move:
        yield tr("with a clamp for that post on it, for the posts differ in thickness")
    else:
        yield tr("with the other lead, in the clamp of step {step}", step=first)


def _changes_posts(names: Names, move: Move) -> bool:
    """Whether a lead goes from one post of a battery to the other."""
    place = split_address(move.to)[0]
    return is_battery(names, place) and split_address(move.was)[0] == place and move.was != move.to


def belongings(names: Names, operation: Fit | Insert) -> Mapping[str, int]:
    """What a part is fitted with; a battery on which each lead keeps its post takes their clamps."""
    things = names.catalogue.parts[operation.place.part].fitted_with
    if not is_battery(names, operation.at):
        return things
    ends = names.after.ends_of_place(operation.at)
    stays = {(move.wire, move.end) for move in names.work.stays.get(operation.at, ())}
    return {} if ends and all((wire, end) in stays for wire, end, _ in ends) else things


def is_battery(names: Names, place: str) -> bool:
    """Whether a place has a battery, whose posts take clamps."""
    fitted = names.after.places.get(place)
    inside = names.catalogue.parts[fitted.part].inside if fitted else ()
    return any(isinstance(element, Source) and not element.when for element in inside)
