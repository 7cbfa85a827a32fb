"""Loads that work in no position though both their sides are drawn: the description lacks something."""

from collections.abc import Iterator

from planner.circuit.fitted import LoadKey
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor
from planner.proof.behaviour import View


def drawn_but_never_working(view: View, catalogue: Catalogue) -> Iterator[LoadKey]:
    """Yield the loads of a loom that never do their work, though something is drawn to each of their sides.

    A piece of a vehicle leaves much out, and shows it: a lamp with one wire. A lamp with two wires, or with
    one and its mounting, is meant to work.
    """
    for place, does in view.never_working:
        part = catalogue.parts[view.loom.places[place].part]
        if _is_drawn_whole(view.loom, place, part, does):
            yield place, does


def drawn_on_one_side(view: View, catalogue: Catalogue) -> Iterator[LoadKey]:
    """Yield the loads that never do their work because only one of their sides is drawn with a wire."""
    for place, does in view.never_working:
        part = catalogue.parts[view.loom.places[place].part]
        wired = {mark for _, _, mark in view.loom.ends_of_place(place)}
        is_begun = any(wired & _ever_joined(part, side) for side in _sides(part, does))
        if is_begun and not _is_drawn_whole(view.loom, place, part, does):
            yield place, does


def _sides(part: Part, does: str) -> list[str]:
    return [node for load in part.users.values() for one in load if one.does == does for node in one.between]


def _is_drawn_whole(loom: Loom, place: str, part: Part, does: str) -> bool:
    """Whether each side of a load gets to a terminal with a wire, or to the mounting."""
    wired = {mark for _, _, mark in loom.ends_of_place(place) if _leads_on(loom, f"{place}:{mark}")}
    wired |= {mark for mark, terminal in part.terminals.items() if terminal.by == "mounting"}
    return all(wired & _ever_joined(part, side) for side in _sides(part, does))


def _leads_on(loom: Loom, address: str) -> bool:
    """Whether the wires on a terminal get to another place, to a feed at the edge or to earth."""
    place, _ = split_address(address)
    heads = {split_address(other)[0] for other in conductor(loom, address)} - {place}
    return any(head in loom.places or head in ("earth", "feed") for head in heads)


def _ever_joined(part: Part, node: str) -> set[str]:
    """The nodes that a part's contacts, fuses and diodes join to one in some setting, itself among them."""
    group, new = {node}, [node]
    while new:
        for nodes in part.joints.get(new.pop(), ()):
            new += [other for other in nodes if other not in group]
            group |= set(nodes)
    return group
