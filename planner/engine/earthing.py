"""Earths, seen from a case: what a mounting earths, and returns that a switch earthed before."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.engine.case import Case
from planner.model.delta import EndRef
from planner.model.elements import EndUser
from planner.model.loom import split_address
from planner.model.need import Fault
from planner.model.part import Terminal
from planner.model.wording import address_words


@dataclass(frozen=True)
class SwitchedReturn:
    """A load that its mounting earths now, while before a switch earthed its return."""

    screw: str  # the terminal that the mounting earths
    feed: str  # the load's other terminal
    feeds: tuple[EndRef, ...]  # the ends that feed it, on it or loose
    back: tuple[str, int, str]  # the old return: wire, end number, where it sat


def earth_near(case: Case, at: str) -> str:
    """Where an earth wire from a terminal goes: the body of its zone, or what stands for it on wood.

    That is the nearest earthed terminal with room on which nothing but wires hangs, a bar, also one behind a
    switch of the return; else the nearest one with room. If there is none either, the body after all: the
    plan then shows that it has no earth.
    """
    zone = case.zone(at)
    if zone is None or case.loom.zones[zone].body:
        return f"earth:{zone}"
    found = [
        (not _is_bar(case, address), case.wire_length(at, address)[0], address)
        for address, fact in case.facts.by_address.items()
        if (fact.nature == "earth" or (fact.nature == "switched-earth" and _is_bar(case, address)))
        and _has_room_for_a_wire(case, address)
    ]
    return min(found, default=(False, 0.0, f"earth:{zone}"))[2]


def _has_room_for_a_wire(case: Case, address: str) -> bool:
    terminal = case.terminal(address)
    if terminal is None or terminal.by == "mounting" or case.is_swapped(split_address(address)[0]):
        return False
    return case.room(address) > 0


def _is_bar(case: Case, address: str) -> bool:
    """Whether nothing inside its part meets a terminal: only wires do."""
    place, mark = split_address(address)
    part = case.part(place)
    return part is not None and not any(
        mark in (*getattr(element, "between", ()), *getattr(element, "join", ())) for element in part.inside
    )


def old_wants_earth(case: Case, address: str) -> bool:
    """Whether a terminal before the job had to be earthed by a wire."""
    terminal = case.old_terminal(address)
    return terminal is not None and terminal.by == "wire" and _wants_earth(case, terminal)


def earths_by_mounting(case: Case, address: str) -> bool:
    """Whether a terminal is made by the part's mounting and needs earth."""
    terminal = case.terminal(address)
    return terminal is not None and terminal.by == "mounting" and _wants_earth(case, terminal)


def is_earthed_inside(case: Case, address: str) -> bool:
    """Whether the part itself joins a terminal to one that its mounting on metal earths."""
    place, _ = split_address(address)
    return case.loom.places[place].mounting == "metal" and any(
        earths_by_mounting(case, other) for other in case.equal_terminals(address)
    )


def _wants_earth(case: Case, terminal: Terminal) -> bool:
    role = case.role_of(terminal.role)
    return (terminal.wants or (role.wants if role else "nothing")) == "earth"


def find_switched_return(case: Case, place: str, what: str | None = None) -> SwitchedReturn | None:
    """The load of a fitted part whose mounting earths it past the switch in its old return."""
    part = case.part(place)
    freed = list(case.freed_ends(place)) if case.is_swapped(place) else []
    departed = list(case.departed_ends(place)) if case.is_swapped(place) else []
    returns = [end for end in departed if case.facts.at(end[2]).earthed == "sometimes"]
    live = tuple((wire, end) for wire, end, was in freed if case.facts.at(was).live != "never")
    for load in part.inside if part and returns else ():
        if isinstance(load, EndUser) and what in (None, load.does):
            screws = [m for m in load.between if earths_by_mounting(case, f"{place}:{m}")]
            marks = [m for m in load.between if m not in screws]
            feeds = tuple(end for m in marks for end in case.ends_at(f"{place}:{m}")) or live
            if screws and marks and feeds:
                return SwitchedReturn(f"{place}:{screws[0]}", f"{place}:{marks[0]}", feeds, returns[0])
    return None


def returns_at_fault(case: Case) -> Iterator[tuple[str, SwitchedReturn]]:
    """Yield place and switched return of each load that the fault asked about may come from.

    The load is on when it should be off, draws current with everything at rest or, once its feed is off, is
    lost. A part that is insulated already is not meant.
    """
    need = case.need
    if not isinstance(need, Fault):
        return
    at_rest = need.hazard == "drain"
    if not at_rest and need.kind not in ("unintended", "changed", "lost"):
        return
    for place in case.swapped_places() if at_rest else (need.at,):
        found = find_switched_return(case, place, None if at_rest else need.what)
        if found is not None and case.loom.places[place].mounting != "insulated":
            yield place, found


def return_facts(case: Case, place: str, found: SwitchedReturn) -> tuple[str, str]:
    """What a switched return was, and what the load has in its place, in words."""
    wire, end, was = found.back
    before = f"{case.old_end(wire, end)} on {address_words(case.before, was)} went to earth only"
    return (
        f"{before} {case.facts.at(was).when}".rstrip(),
        f"{case.loom.place_title(place)} is earthed by its mounting all the time now",
    )


def earth_runs(case: Case, from_: str, to: str) -> bool:
    """Whether a wire runs there already, or one of the plan's own from joiner to joiner beside them."""
    if any(to in [end.at for end in wire.ends] for wire, _ in case.wires_at(from_)):
        return True
    here, there = ({at, f"joint:{at.replace(':', '.')}"} for at in (from_, to))
    own = (wire for wire in case.loom.wires if wire.wire not in case.before.wire_index)
    ends = ((wire.ends[0].at, wire.ends[-1].at) for wire in own)
    return any((a in here and b in there) or (b in here and a in there) for a, b in ends)
