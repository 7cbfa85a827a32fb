"""The beams that hang on one feed: what goes dark when a fuse there blows, and what is left then."""

from planner.engine.case import Case
from planner.model.elements import Lamp, Led
from planner.model.reach import Consumer, consumers_beyond, fed_past, hanging_on

DUTY = "head"


def headlamps_beyond(case: Case, at: str) -> frozenset[str]:
    """The places of the headlamps that a feed on this terminal reaches."""
    return frozenset(c.place for c in consumers_beyond(case.loom, case.catalogue, at) if c.duty == DUTY)


def darkens_both_headlamps(case: Case, at: str) -> bool:
    """Whether one fuse before a terminal puts out both headlamps at once: no beam of the vehicle is left.

    The beams are those of the parts, for while a plan is made not every wire is on its terminal yet.
    """
    gone = {(c.place, c.does) for c in hanging_on(case.loom, case.catalogue, at, DUTY)}
    beams = {
        (place, element.does)
        for place, fitted in case.loom.places.items()
        for element in case.catalogue.parts[fitted.part].inside
        if isinstance(element, Lamp | Led) and element.duty == DUTY
    }
    return len({place for place, _ in gone}) > 1 and beams <= gone


def beams_left(case: Case, at: str) -> list[Consumer]:
    """The beams that are fed in another way than by a terminal, in the order of their places."""
    found = {c for c in fed_past(case.loom, case.catalogue, at) if c.duty == DUTY}
    return sorted(found, key=lambda c: (c.place, c.does))
