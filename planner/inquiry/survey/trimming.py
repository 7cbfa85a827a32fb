"""The wires of a partial loom: those at the places that are kept, with their ends where the rest begins."""

from collections.abc import Collection, Mapping

from planner.inquiry.survey.edges import Edges
from planner.inquiry.survey.kept import joined_wires
from planner.model.loom import End, Loom, Wire, split_address

BEYOND = "joint:beyond-"


def touching(loom: Loom, places: Collection[str]) -> list[Wire]:
    """The wires at some places, and those that joiners add to them, in the order of the loom."""
    found = {
        wire
        for place in places
        for _, _, mark in loom.ends_of_place(place)
        for wire, _ in joined_wires(loom, f"{place}:{mark}")
    }
    return [wire for wire in loom.wires if wire.wire in found]


def edged_wire(wire: Wire, edges: Edges) -> Wire:
    """A wire whose ends at the rest stand at the edge; nothing is known of it yet."""
    ends = tuple(
        End(
            at=edges.addresses.get(end.at, end.at),
            fitting=end.fitting,
            spare_metres=end.spare_metres,
            covered=end.covered,
        )
        for end in wire.ends
    )
    return wire.model_copy(update={"ends": ends, "known": "assumed", "note": None})


def pruned(wires: tuple[Wire, ...], places: Collection[str]) -> tuple[Wire, ...]:
    """Wires without those that only lead from a joiner to where the loom is cut off."""
    while True:
        count: dict[str, int] = {}
        for wire in wires:
            for at in {end.at for end in wire.ends}:
                count[at] = count.get(at, 0) + 1
        left = tuple(wire for wire in wires if _leads(wire, places, count))
        if len(left) == len(wires):
            return _unbundled(wires)
        wires = left


def _unbundled(wires: tuple[Wire, ...]) -> tuple[Wire, ...]:
    """Wires of which none lies alone in what was a bundle."""
    names = [wire.bundle for wire in wires]
    return tuple(
        wire.model_copy(update={"bundle": None}) if names.count(wire.bundle) == 1 else wire for wire in wires
    )


def _leads(wire: Wire, places: Collection[str], count: Mapping[str, int]) -> bool:
    heads = [end.at for end in wire.ends]
    if any(split_address(at)[0] in (*places, "earth", "feed", "unknown", "loose") for at in heads):
        return True
    return sum(count[at] > 1 for at in heads if not at.startswith(BEYOND)) > 1
