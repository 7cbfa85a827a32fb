"""Turn signals, seen from a case: the sides that a flasher feeds, and indicator lamps between two of them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.engine.case import Case
from planner.model.elements import Flasher, Lamp, Led
from planner.model.loom import split_address
from planner.model.need import Fault
from planner.model.part import Part
from planner.model.reach import conductor, consumers_beyond, joined_inside


@dataclass(frozen=True)
class Side:
    """The signal lamps on one conductor."""

    terminals: tuple[str, ...]  # of its signal lamps
    amps: float  # of everything that hangs on it, at the volts of the supply
    has_led: bool


@dataclass(frozen=True)
class SharedLamp:
    """An indicator lamp without an earth of its own, and the terminals of its part on either side."""

    place: str
    does: str
    fed: str  # where its anode is, if it has one
    back: str


def flasher_at_fault(case: Case, need: Fault) -> tuple[str, Flasher] | None:
    """The place and the element of the flasher on the way of a fault."""
    for address in (need.at, *need.path):
        place, _ = split_address(address)
        part = case.part(place)
        for element in part.inside if part else ():
            if isinstance(element, Flasher):
                return place, element
    return None


def amps_fed(case: Case, address: str, position: Mapping[str, str]) -> float:
    """What everything takes that contacts join to an address in a position, what it leaves open at rest.

    By the ratings, at the volts of the supply: a side may hang together only while the turn switch is over.
    """
    seen, queue, users = {address}, [address], set()
    while queue:
        here = queue.pop()
        place, mark = split_address(here)
        part = case.part(place)
        joined = conductor(case.loom, here)
        if part is not None:
            rest = {name: values[0] for name, values in part.variables.items()}
            nodes = joined_inside(part, mark, rest | case.local_setting(place, position))
            users |= {(place, node, e.does, e.watts) for node in nodes for e in _lamps_at(part, node)}
            joined = (*joined, *(f"{place}:{m}" for m in nodes if m in part.terminals))
        more = {other for other in joined if split_address(other)[0] != "earth"} - seen
        seen |= more
        queue += more
    return sum(watts for *_, watts in users) / case.loom.supply.volts


def _lamps_at(part: Part, node: str) -> Iterator[Lamp | Led]:
    """Yield the lamps of which a node is the live side."""
    yield from (e for e in part.inside if isinstance(e, Lamp | Led) and node == e.between[0])


def sides(case: Case, address: str) -> tuple[Side, ...]:
    """The sides whose signal lamps are reached from an address, each told by its conductor."""
    found: dict[frozenset[str], list[str]] = {}
    places = sorted(
        {c.place for c in consumers_beyond(case.loom, case.catalogue, address) if c.duty == "signal"}
    )
    for place in places:
        part = case.part(place)
        for mark in _lamp_marks(part) if part else ():
            at = f"{place}:{mark}"
            found.setdefault(frozenset(conductor(case.loom, at)), []).append(at)
    return tuple(_side(case, terminals) for terminals in found.values())


def _lamp_marks(part: Part) -> Iterator[str]:
    """Yield the wired terminals on which a signal lamp of a part sits."""
    for element in part.inside:
        if isinstance(element, Lamp | Led) and element.duty == "signal":
            for mark in element.between:
                terminal = part.terminals.get(mark)
                if terminal is not None and terminal.by == "wire" and terminal.role != "31":
                    yield mark


def _side(case: Case, terminals: list[str]) -> Side:
    watts = sum(c.watts for c in consumers_beyond(case.loom, case.catalogue, terminals[0]))
    parts = [case.part(split_address(at)[0]) for at in terminals]
    has_led = any(isinstance(e, Led) and e.duty == "signal" for part in parts if part for e in part.inside)
    return Side(tuple(terminals), watts / case.loom.supply.volts, has_led)


def shared_lamps(case: Case, need: Fault) -> Iterator[SharedLamp]:
    """Yield each indicator lamp between two sides, where light-emitting lamps hang on either.

    Only those that a fault is at or that lie on its way.
    """
    for place in case.loom.places:
        part = case.part(place)
        for element in part.inside if part else ():
            if not isinstance(element, Lamp | Led) or element.duty == "signal":
                continue
            one, other = (f"{place}:{mark}" for mark in element.between)
            if need.at != place and not {one, other} <= set(need.path):
                continue
            if other in conductor(case.loom, one):
                continue
            first, second = sides(case, one), sides(case, other)
            if first and second and any(side.has_led for side in (*first, *second)):
                fed, back = (one, other) if case.loom.supply.earthed == "negative" else (other, one)
                yield SharedLamp(place, element.does, fed, back)
