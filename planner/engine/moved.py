"""Parts that a job moves: one comes out, and its like goes in elsewhere."""

from planner.engine.case import Case
from planner.model.part import Part


def has_moved(case: Case, here: str, old: Part, place: str, other: Part, mark: str) -> bool:
    """Whether one part has come out and its like goes in elsewhere; of batteries another may stay."""
    if mark in old.battery_posts:
        return bool(other.battery_posts)
    if here in case.loom.places or place in case.before.places:
        return False
    was, now = ({t.role for t in part.terminals.values() if t.by == "wire"} for part in (old, other))
    return other.family == old.family or (len(now) > 1 and None not in now and now <= was)
