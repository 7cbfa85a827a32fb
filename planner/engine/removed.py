"""What a part leaves that comes out with nothing in its place, seen from a case."""

from collections.abc import Iterator, Sequence

from planner.engine.case import Case
from planner.model.delta import Join, Operation
from planner.model.elements import Coil, Contact
from planner.model.joiners import is_new_joiner
from planner.model.loom import split_address
from planner.model.need import Fault
from planner.model.part import Part

ISOLATED = "isolated-live"


def guards(case: Case) -> Iterator[tuple[str, Part, Contact]]:
    """Yield each contact of a part that comes out for good, if it is closed at rest or an isolator's."""
    rest = {name: positions[0].label for name, positions in case.before.conditions.items()}
    for swap in case.job.swaps:
        old = case.old_part(swap.at)
        if old is None or case.part(swap.at) is not None:
            continue
        at_rest = rest | {name: control.positions[0].label for name, control in old.controls.items()}
        for contact in old.inside:
            if not isinstance(contact, Contact) or not contact.when or len(contact.join) != 2:
                continue
            roles = {old.terminals[mark].role for mark in contact.join if mark in old.terminals}
            is_closed = all(at_rest.get(name) in labels for name, labels in contact.when.items())
            if is_closed or ISOLATED in roles:
                yield swap.at, old, contact


def switched_beside(case: Case, was: str) -> Iterator[tuple[Contact, str]]:
    """Yield each contact of a removed guard that switched an old terminal on, and what fed it."""
    place, mark = split_address(was)
    guarding = [contact for at, _, contact in guards(case) if at == place]
    old = case.old_part(place)
    for contact in old.inside if old and guarding else ():
        if not isinstance(contact, Contact) or contact in guarding or not contact.when:
            continue
        if old is not None and len(contact.join) == 2 and mark in contact.join:
            fed, out = sorted(contact.join, key=lambda joined: case.rank_in(old, joined))
            if out == mark:
                yield contact, f"{place}:{fed}"


def is_taken_over(case: Case, fed: str, out: str) -> bool:
    """Whether another part that the job fits joins terminals of the same two roles by a contact."""
    roles = {case.old_role(fed), case.old_role(out)}
    parts = [part for place in case.swapped_places() if (part := case.part(place)) is not None]
    return None not in roles and any(
        isinstance(e, Contact) and roles <= {part.terminals[m].role for m in e.join if m in part.terminals}
        for part in parts
        for e in part.inside
    )


def draft_joint(case: Case, place: str, sides: Sequence[str]) -> tuple[Operation, ...]:
    """What joins the ends of both sides; those of one side may share a joiner already.

    Nothing if they are not all loose or there.
    """
    loose = [end for end in case.freed_ends(place) if end[2] in sides]
    shared = {
        at
        for wire, number, was in case.departed_ends(place)
        if was in sides and is_new_joiner(case.before, at := case.loom.find(wire).ends[number].at)
    }
    if len(shared) == 1 and loose:
        return tuple(case.put(wire, number, *shared) for wire, number, _ in loose)
    if shared or {was for _, _, was in loose} != set(sides):
        return ()
    return (Join(tuple(loose), f"joint:{sides[0].replace(':', '.')}"),)


def is_on_the_way(case: Case, need: Fault, sides: Sequence[str]) -> bool:
    """Whether a guard was on the way that fed a load, or on that to a coil of a part on this way."""
    if set(sides) <= set(need.path):
        return True
    conductors = {at for side in sides for at in case.facts.at(side).addresses}
    places = {split_address(at)[0] for at in need.path}
    return any(
        f"{place}:{mark}" in conductors
        for place in places
        if (part := case.part(place)) is not None
        for coil in part.inside
        if isinstance(coil, Coil)
        for mark in coil.between
    )


def relay_crossing(case: Case, need: Fault) -> tuple[str, str, tuple[str, str]] | None:
    """The relay that came out for good on the way of a fault: its place, output, and the ends of its coil."""
    for first, last, *_ in case.crossings(need.path):
        place = split_address(first)[0]
        old = case.old_part(place)
        if old is None or case.part(place) is not None:
            continue
        marks = {split_address(at)[1] for at in (first, last)}
        for coil in (element for element in old.inside if isinstance(element, Coil)):
            makes = (e for e in old.inside if isinstance(e, Contact) and marks <= set(e.join))
            if any(dict(e.when) == {coil.name: ("pulled",)} for e in makes):
                return place, last, coil.between
    return None


def has_lost_its_other_end(case: Case, was: str) -> bool:
    """Whether all that was on the conductor of an old terminal came out for good, but for its own part."""
    own = split_address(was)[0]
    others = [at for at in case.facts.at(was).addresses if split_address(at)[0] not in (own, "joint")]
    return bool(others) and not any(
        at in case.before.feeds or split_address(at)[0] in ("earth", *case.loom.places) for at in others
    )
