"""Generators and the regulators outside them, seen from a case."""

from collections.abc import Iterator

from planner.engine.case import Case
from planner.model.elements import SPARK, AnyElement, Diode, Fuse, Lamp, Led, Resistor, Source
from planner.model.loom import split_address
from planner.model.part import Part
from planner.model.reach import conductor


def with_built_in_regulator(case: Case) -> str | None:
    """The place where an alternator with output and lamp terminal replaces a generator with its field."""
    for place in case.swapped_places():
        old, new = case.old_part(place), case.part(place)
        if old is None or new is None or not (_is_generator(old) and _is_generator(new)):
            continue
        had, has = _roles(old), _roles(new)
        if "DF" in had and had & {"D+", "B+"} and {"B+", "61"} <= has and "DF" not in has:
            return place
    return None


def outside_regulators(case: Case) -> Iterator[str]:
    """Yield the places of regulators, for a field outside them, that stay."""
    for place in case.loom.places:
        part = case.part(place)
        roles = _roles(part) if part is not None and not _is_generator(part) else set()
        if "DF" in roles and roles & {"15", "B+", "D+"}:
            yield place


def unused_lamp_terminal(case: Case, fitted: str) -> str | None:
    """The lamp terminal of a fitted alternator that no wire leads from to anything that lets current in."""
    part = case.part(fitted)
    for mark, terminal in part.terminals.items() if part else ():
        is_own = any(isinstance(e, Source) and e.between[0] == mark for e in part.inside) if part else False
        if terminal.role != "61" or not is_own:
            continue
        at = f"{fitted}:{mark}"
        beyond = [split_address(a) for a in conductor(case.loom, at) if a != at]
        parts = [(case.part(place), other) for place, other in beyond]
        if not any(there and any(_lets_in(e, other) for e in there.inside) for there, other in parts):
            return at
    return None


def weak_charge_lamps(case: Case, fitted: str, least_watts: float) -> Iterator[tuple[str, Lamp | Led]]:
    """Yield the lamps between ignition and an alternator's lamp terminal that take too little, by their feed.

    Only if the fitted part is the alternator or the lamp.
    """
    for alternator in case.loom.places:
        part = case.part(alternator)
        marks = [m for m, t in part.terminals.items() if t.role == "61"] if part else []
        if part is None or not any(isinstance(e, Source) and e.between[0] in marks for e in part.inside):
            continue
        for address in (a for mark in marks for a in conductor(case.loom, f"{alternator}:{mark}")):
            place, mark = split_address(address)
            there = case.part(place)
            for element in there.inside if there and fitted in (place, alternator) else ():
                if (
                    isinstance(element, Lamp | Led)
                    and mark in element.between
                    and element.watts < least_watts
                ):
                    feed = next(other for other in element.between if other != mark)
                    yield f"{place}:{feed}", element


def _lets_in(element: AnyElement, mark: str) -> bool:
    return isinstance(element, Lamp | Led | Resistor | Diode | Fuse) and mark in element.between


def _is_generator(part: Part) -> bool:
    return any(isinstance(element, Source) for element in part.inside)


def _roles(part: Part) -> set[str | None]:
    return {terminal.role for terminal in part.terminals.values()}


def stops_with_the_key(case: Case) -> bool:
    """Whether an ignition coil is on the ignition: then the engine stands soon after the key is off."""
    for place, fitted in case.before.places.items():
        part = case.catalogue.parts[fitted.part]
        if any(getattr(element, "does", None) == SPARK for element in part.inside) and any(
            case.facts.at(f"{place}:{mark}").nature == "ignition-live" for mark in part.terminals
        ):
            return True
    return False
