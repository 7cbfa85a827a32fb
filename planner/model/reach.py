"""What lies on a conductor and beyond it, by looking at wires and contacts; no current is computed."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from planner.model.catalogue import Catalogue
from planner.model.elements import Contact, Diode, Fuse, Gauge, Lamp, Led, Resistor, Winding
from planner.model.loom import Loom, split_address
from planner.model.part import Part

NOWHERE = ("loose", "unknown")  # ends there share a word, not a conductor
END_USERS = (Lamp, Winding, Led, Gauge, Resistor)


@dataclass(frozen=True, slots=True)
class Consumer:
    """A load that a conductor can reach."""

    place: str
    does: str
    duty: str
    watts: float


def conductor(loom: Loom, address: str) -> tuple[str, ...]:
    """Every address that wires join to one, itself first; the body and parts are not crossed."""
    found = {address: None}
    queue = [address]
    while queue:
        here = queue.pop()
        if here in NOWHERE or split_address(here)[0] == "earth":
            continue
        for wire, _ in loom.ends_at.get(here, ()):
            for end in loom.find(wire).ends:
                if end.at not in found:
                    found[end.at] = None
                    queue.append(end.at)
    return tuple(found)


def joined_inside(part: Part, mark: str, setting: Mapping[str, str] | None = None) -> frozenset[str]:
    """Terminals and inner nodes that the part's contacts join to one, itself among them.

    A contact counts if every variable in its ``when`` has its value in ``setting``; without a setting only
    contacts that are always closed count.
    """
    at = setting or {}
    group = {mark}
    grown = True
    while grown:
        grown = False
        for element in part.inside:
            if not isinstance(element, Contact) or not group & set(element.join):
                continue
            if all(at.get(name) in labels for name, labels in element.when.items()):
                grown |= not set(element.join) <= group
                group |= set(element.join)
    return frozenset(group)


def consumers_beyond(loom: Loom, catalogue: Catalogue, address: str) -> frozenset[Consumer]:
    """Every load that a feed put on an address could reach in some position.

    Contacts are crossed whatever their position, but never from a role nearer to earth back to one nearer
    to the live pole; loads, sources and the body are not crossed.
    """
    found: set[Consumer] = set()
    seen = {address}
    queue = [address]
    while queue:
        here = queue.pop()
        place, mark = split_address(here)
        fitted = loom.places.get(place)
        part = catalogue.parts.get(fitted.part) if fitted else None
        onward = list(conductor(loom, here))
        if part is not None:
            found |= set(_consumers(part, place, mark))
            onward += [f"{place}:{other}" for other in _crossed(part, catalogue, mark)]
        for other in onward:
            if other not in seen and other not in NOWHERE and split_address(other)[0] != "earth":
                seen.add(other)
                queue.append(other)
    return frozenset(found)


def _consumers(part: Part, place: str, mark: str) -> Iterator[Consumer]:
    for element in part.inside:
        if isinstance(element, END_USERS) and element.does and mark in element.between:
            watts = getattr(element, "watts", None) or 0.0
            yield Consumer(place, element.does, element.duty, watts)


def _crossed(part: Part, catalogue: Catalogue, mark: str) -> Iterator[str]:
    """Nodes one contact, fuse or diode further from the live pole."""
    rank = _ranks(part, catalogue)
    for element in part.inside:
        if isinstance(element, Contact):
            nodes = element.join
        elif isinstance(element, Fuse | Diode):
            nodes = element.between
        else:
            continue
        if mark in nodes:
            here = rank(mark)
            for other in nodes:
                there = rank(other)
                if other != mark and (here is None or there is None or there >= here):
                    terminal = part.terminals.get(other)
                    if terminal is None or terminal.by == "wire":
                        yield other


def _ranks(part: Part, catalogue: Catalogue) -> Callable[[str], int | None]:
    def rank(mark: str) -> int | None:
        terminal = part.terminals.get(mark)
        role = catalogue.roles.get(terminal.role) if terminal and terminal.role else None
        return role.rank if role else None

    return rank
