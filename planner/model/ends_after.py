"""Where the ends of a part that came out are now: on which terminal of the part that took its place."""

from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor


def terminals_taken(before: Loom, after: Loom, at: str, new: Part) -> dict[str, str | None]:
    """For each terminal at a place that had ends, the terminal there that they all are on now.

    An end that a joiner or link connects to a terminal counts as being on it. None if they are on several, on
    none, or tied back.
    """
    found: dict[str, set[str | None]] = {}
    for wire, number, mark in before.ends_of_place(at):
        ends = after.find(wire).ends if wire in after.wire_index else ()
        found.setdefault(mark, set()).add(_terminal(after, at, new, ends[number].at) if ends else None)
    return {mark: next(iter(there)) if len(there) == 1 else None for mark, there in found.items()}


def _terminal(after: Loom, at: str, new: Part, now: str) -> str | None:
    place, mark = split_address(now)
    if place == at:
        return mark
    if place in ("loose", "unknown", "earth"):
        return None
    near = [m for m in new.terminals if now in conductor(after, f"{at}:{m}")]
    return near[0] if len(near) == 1 else None
