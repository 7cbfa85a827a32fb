"""Ends in the middle of a chain: two wires are in one terminal, and come apart where it is cut off."""

from planner.messages import tr
from planner.workshop.ends.names import Names


def has_two_wires(names: Names, wire: str, end: int) -> bool:
    """Whether two wires are in one end."""
    return len(names.wire(wire).legs_at(end)) > 1


def with_both(names: Names, wire: str, end: int) -> str:
    """An end as people point at it where its terminal is gone: one of two wires could be forgotten."""
    named = names.named(wire, end)
    return tr("{wire} with both its wires", wire=named) if has_two_wires(names, wire, end) else named


def where_both_lead(names: Names, wire: str, end: int) -> str:
    """Where the two wires of an end led before the work: ``one to 9 on the fuse box, one to ...``."""
    loom = names.before if wire in names.before.wire_index else names.after
    one, other = (names.was_at(loom.find(wire).ends[n].at) for n in (end - 1, end + 1))
    return tr("one to {one}, one to {other}", one=one, other=other)
