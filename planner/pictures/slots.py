"""Which terminal of an old part and which of the new one share a slot of their outline."""

from collections.abc import Mapping

from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.pictures.graph import Slot


def marks_of(part: Part | None) -> tuple[str, ...]:
    """The terminals of a part that take wires."""
    return tuple(m for m, t in part.terminals.items() if t.by == "wire") if part else ()


def slots_of(before: Loom, after: Loom, at: str, old: Part | None, new: Part | None) -> tuple[Slot, ...]:
    """The slots of a swapped place: equal marks share one, and so do marks between which all wires move."""
    was, now = _with_wires(before, at, old), _with_wires(after, at, new)
    moved = _moved(before, after, at)
    slots, taken = [], set(was) & set(now)
    for mark in was:
        heir = mark if mark in taken else moved.get(mark)
        if heir is not None and (heir == mark or (heir in now and heir not in taken)):
            taken.add(heir)
            slots.append(Slot(mark if heir == mark else f"{mark} {heir}", mark, heir))
        else:
            slots.append(Slot(mark, mark, None))
    return (*slots, *(Slot(mark, None, mark) for mark in now if mark not in taken))


def _with_wires(loom: Loom, at: str, part: Part | None) -> tuple[str, ...]:
    """The terminals that take wires, and any other that a wire is on all the same."""
    on = (mark for _, _, mark in loom.ends_of_place(at))
    return tuple(dict.fromkeys((*marks_of(part), *on)))


def _moved(before: Loom, after: Loom, at: str) -> Mapping[str, str]:
    """Old marks of which every wire goes on one and the same new mark."""
    goes: dict[str, set[str | None]] = {}
    for wire, end, mark in before.ends_of_place(at):
        place, new = split_address(after.end_address(wire, end) or "")
        goes.setdefault(mark, set()).add(new if place == at else None)
    only = {mark: next(iter(to)) for mark, to in goes.items() if len(to) == 1}
    return {mark: to for mark, to in only.items() if to is not None}
