"""The way of a short in words: which wires and parts it leads through, as one follows it with a finger."""

from collections.abc import Sequence
from itertools import pairwise

from planner.messages import tr
from planner.model.loom import Loom, Wire, split_address
from planner.model.wording import address_words, wire_words


def short_way(loom: Loom, path: Sequence[str]) -> str:
    """From where, along which wires and through which parts a way leads; empty if there is none."""
    if len(path) < 2:
        return ""
    stages: list[str] = []
    for one, other in pairwise(path):
        wire = _wire(loom, one, other)
        place = split_address(one)[0]
        if wire is not None:
            stages.append(f"{wire_words(wire)} {wire.wire}")
        elif place in loom.places and place == split_address(other)[0]:
            stages.append(tr("the {place}", place=loom.place_title(place)))
        elif place in loom.places:
            stages.append(tr("the mounting of the {place}", place=loom.place_title(place)))
    along = ", ".join(dict.fromkeys(stages))
    ends = {"start": address_words(loom, path[0]), "end": address_words(loom, path[-1])}
    return tr("from {start} through {along} to {end}", along=along, **ends)


def _wire(loom: Loom, one: str, other: str) -> Wire | None:
    """The wire that joins two addresses; any point of the body is earth."""
    for name, _ in loom.ends_at.get(one, ()):
        wire = loom.find(name)
        if any(_is_at(end.at, other) for end in wire.ends):
            return wire
    return None


def _is_at(at: str, node: str) -> bool:
    return at == node or (node == "earth" and split_address(at)[0] == "earth")
