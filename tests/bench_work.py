"""What a vehicle is like while it is worked on: its room, its posts, what is put on."""

from planner.model.catalogue import Catalogue
from planner.model.delta import Add, Insert, Move, copy_loom
from planner.model.elements import Fuse, Source
from planner.model.fitted_fuse import fused_side
from planner.model.loom import Loom, split_address


def same(loom: Loom, catalogue: Catalogue) -> Loom:
    """A loom with its wires in one order, and without fuses put in that are those the part came with."""
    own = {
        fused_side(place, element): element.amps
        for place, fitted in loom.places.items()
        for element in catalogue.parts[fitted.part].inside
        if isinstance(element, Fuse) and element.marked == "continuous"
    }
    fuses = {at: amps for at, amps in loom.fuses.items() if own.get(at) != amps}
    return copy_loom(loom, wires=tuple(sorted(loom.wires, key=lambda wire: wire.wire)), fuses=fuses)


def room(loom: Loom, address: str, catalogue: Catalogue) -> int:
    """How many ends a terminal takes."""
    place, mark = split_address(address)
    part = catalogue.parts[loom.places[place].part]
    return part.terminals[mark].holds + loom.piggybacks.count(address)


def earthed_posts(loom: Loom, catalogue: Catalogue) -> set[str]:
    """The earthed posts of the batteries of a loom."""
    return {
        f"{place}:{element.between[1]}"
        for place, fitted in loom.places.items()
        for element in catalogue.parts[fitted.part].inside
        if isinstance(element, Source) and not element.when
    }


def put_on(operation: object) -> tuple[str, ...]:
    """The terminals that an operation puts an end on."""
    if isinstance(operation, Move):
        return (operation.to,)
    if isinstance(operation, Insert):
        return tuple(end.at for end in operation.lead.ends)
    return tuple(end.at for end in operation.wire.ends) if isinstance(operation, Add) else ()
