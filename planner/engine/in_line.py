"""What is in line in a conductor, and the ends that belong together when it comes out."""

from planner.engine.case import Case
from planner.model.elements import Coil, Gauge
from planner.model.loom import split_address
from planner.model.need import LooseEnd
from planner.model.part import Part

OldEnd = tuple[str, int, str]  # wire, end, the address it was on


def ends_of_what_was_in_line(case: Case, need: LooseEnd) -> tuple[Coil | Gauge, tuple[OldEnd, ...]] | None:
    """The coil or ammeter that was in line at an old terminal, and the freed ends of both its terminals.

    None where the part now is in line as well, has a terminal of the end's role, or one side has no end.
    """
    place, mark = split_address(need.was)
    old, new = case.old_part(place), case.part(place)
    was = next((e for e in _in_line(old) if mark in e.between), None) if old else None
    if old is None or was is None:
        return None
    role = old.terminals[mark].role
    if new is not None and (_in_line(new) or (role and role in {t.role for t in new.terminals.values()})):
        return None
    ends = tuple(end for end in case.freed_ends(place) if split_address(end[2])[1] in was.between)
    return (was, ends) if len({at for _, _, at in ends}) == len(was.between) else None


def sensing_coil(case: Case, address: str) -> tuple[str, str] | None:
    """In and out of a coil in line at a terminal of a part in a new place; None if there is none."""
    place, mark = split_address(address)
    part = case.part(place)
    if part is None or place in case.before.places:
        return None
    coil = next((e for e in _in_line(part) if isinstance(e, Coil) and mark in e.between), None)
    return (f"{place}:{coil.between[0]}", f"{place}:{coil.between[1]}") if coil else None


def coil_amps(part: Part, coil: tuple[str, str]) -> float | None:
    """What pulls in the coil between two addresses of a part, in A."""
    marks = {split_address(at)[1] for at in coil}
    found = (e for e in part.inside if isinstance(e, Coil) and set(e.between) == marks)
    return next((e.pulls_in_v / e.ohms for e in found), None)


def _in_line(part: Part) -> list[Coil | Gauge]:
    """What a part has in line between two terminals with wires."""
    return [
        e
        for e in part.inside
        if isinstance(e, Coil | Gauge)
        and e.is_in_series
        and all(m in part.terminals and part.terminals[m].by == "wire" for m in e.between)
    ]
