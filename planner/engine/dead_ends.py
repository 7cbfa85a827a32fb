"""New wires that lead nowhere: whatever any switch is at, no current can ever flow in them."""

from collections.abc import Iterator

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom, Wire, split_address

_POLES = ("earth", "feed", "unknown")  # what is on an end that nobody has seen may be anything


def dead_ends(before: Loom, loom: Loom, catalogue: Catalogue) -> Iterator[Wire]:
    """Yield each new wire of two ends of which one side gets to no pole but by it.

    Loads, coils and contacts are all taken as joints, so what is found dead is dead in every position.
    """
    for wire in loom.wires:
        if wire.wire in before.wire_index or len(wire.ends) != 2:
            continue
        if not all(_gets_to_a_pole(loom, catalogue, end.at, wire) for end in wire.ends):
            yield wire


def _gets_to_a_pole(loom: Loom, catalogue: Catalogue, start: str, without: Wire) -> bool:
    found, queue = {start}, [start]
    while queue:
        here = queue.pop()
        place, mark = split_address(here)
        if place in _POLES:
            return True
        beside = [e.at for w, _ in loom.ends_at.get(here, ()) if w != without.wire for e in loom.find(w).ends]
        if place in loom.places:
            fitted = loom.places[place]
            part = catalogue.parts[fitted.part]
            nodes = list(part.references())
            terminal = part.terminals.get(mark)
            if terminal is not None and terminal.by == "mounting" and fitted.mounting != "insulated":
                return True
            if mark in part.battery_posts:
                return True
            touching = {index for index, _, kind, name in nodes if kind == "node" and name == mark}
            beside += [
                f"{place}:{name}" for index, _, kind, name in nodes if kind == "node" and index in touching
            ]
        new = [at for at in dict.fromkeys(beside) if at not in found and at != "loose"]
        found.update(new)
        queue += new
    return False
