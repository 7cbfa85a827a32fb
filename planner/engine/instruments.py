"""Instruments, seen from a case: which sender a gauge reads, and from where the gauge is fed."""

from planner.engine.case import Case
from planner.model.delta import Operation
from planner.model.elements import Gauge, Sender, Stabiliser
from planner.model.gauges import senders_of
from planner.model.loom import split_address
from planner.model.part import Part
from planner.model.reach import conductor, joined_inside


def sender_side(case: Case, place: str, gauge: Gauge) -> str | None:
    """The terminal of a gauge's part that is wired to a sender; None if neither is."""
    for address in _terminals(case, place, gauge):
        if any(_sender_at(case, other) for other in conductor(case.loom, address)):
            return address
    return None


def feed_side(case: Case, place: str, gauge: Gauge) -> str | None:
    """The terminal of a gauge's part through which it is fed, where its other one leads to a sender."""
    sending = sender_side(case, place, gauge)
    return next((a for a in _terminals(case, place, gauge) if sending is not None and a != sending), None)


def sender_of(case: Case, place: str, gauge: Gauge) -> str | None:
    """The place of the sender that a gauge at a place reads; None where none is seen."""
    side = sender_side(case, place, gauge)
    if side is None:
        return None
    return next(split_address(a)[0] for a in conductor(case.loom, side) if _sender_at(case, a))


def others_in_place_of_sender(case: Case, place: str, gauge: Gauge) -> tuple[str, ...]:
    """The places that stand on a gauge's wire; none where that leads to what nobody knows."""
    part = case.part(place)
    sides = [
        address
        for address in _terminals(case, place, gauge)
        if part and _is_for_sender(part.terminals[split_address(address)[1]].role)
    ]
    on = [split_address(other)[0] for side in sides for other in conductor(case.loom, side)]
    found = tuple(dict.fromkeys(head for head in on if head not in (place, "joint")))
    is_known = all(head in case.loom.places and case.loom.places[head].known != "assumed" for head in found)
    return found if is_known else ()


def draft_past(case: Case, place: str, between: tuple[str, str]) -> tuple[Operation, ...]:
    """What joins the leads of an ammeter: those of one terminal on the other one, else all in a joiner."""
    sides = [f"{place}:{mark}" for mark in between]
    on = [case.ends_at(at) for at in sides]
    if not all(on) or any(wire not in case.before.wire_index for ends in on for wire, _ in ends):
        return ()
    for n in sorted((0, 1), key=lambda n: len(on[n])):
        if case.room(sides[1 - n]) >= len(on[n]):
            return tuple(case.put(wire, end, sides[1 - n]) for wire, end in on[n])
    return tuple(case.put(wire, end, f"joint:{place}.{between[0]}") for ends in on for wire, end in ends)


def on_same_side_of_stabiliser(case: Case, was: str, targets: list[str]) -> list[str]:
    """Of terminals of a new part those on the side of its stabiliser where the old one was; else all.

    Both sides have the role of a feed, and another year may have them the other way round: fed at its output
    a stabiliser holds nothing.
    """
    place, mark = split_address(was)
    side = _side_of_stabiliser(case.old_part(place), mark)
    same = [
        at
        for at in targets
        if side == _side_of_stabiliser(case.part(split_address(at)[0]), split_address(at)[1])
    ]
    return same if side is not None and same else targets


def _side_of_stabiliser(part: Part | None, mark: str) -> int | None:
    """Whether a terminal is the input (0) or the output (1) of a part's stabiliser; None if neither."""
    found = (e for e in part.inside if isinstance(e, Stabiliser) and mark in e.between) if part else ()
    return next((element.between.index(mark) for element in found), None)


def _terminals(case: Case, place: str, gauge: Gauge) -> list[str]:
    """The wired terminals of a part that a gauge's two ends are joined to."""
    part = case.part(place)
    if part is None:
        return []
    marks = [mark for end in gauge.between for mark in joined_inside(part, end)]
    return [f"{place}:{m}" for m in marks if m in part.terminals and part.terminals[m].by == "wire"]


def _is_for_sender(role: str | None) -> bool:
    """Whether a gauge's terminal is made for a sender's wire."""
    return role is not None and role.endswith("-sender")


def _sender_at(case: Case, address: str) -> Sender | None:
    """The sender of a part that sits on a terminal."""
    place, mark = split_address(address)
    part = case.part(place)
    found = senders_of(part) if part else ()
    return next((sender for sender in found if mark in sender.between), None)
