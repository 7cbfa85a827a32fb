"""What a part is for, and whether two parts are of one kind: a family holds several, as the trade speaks.

A fuel gauge and an oil gauge are both gauges, and neither does the other's work.
"""

from planner.model.elements import EndUser, Sender
from planner.model.part import MEASURED_SOURCE, UNKNOWN_FAMILY, Part

Kind = tuple[str, frozenset[str]]


def purposes(part: Part) -> frozenset[str]:
    """What its loads do and which conditions of the vehicle work it; nothing for a switch worked by hand."""
    found: set[str] = set()
    for element in part.inside:
        if isinstance(element, EndUser) and element.does:
            found.add(element.does)
        if isinstance(element, Sender):
            found.add(element.follows)
        found.update(name for name in getattr(element, "when", None) or () if name not in part.variables)
    return frozenset(found)


def kind_of(part: Part) -> Kind:
    """Family and purposes: parts of one kind differ only in how they do it."""
    return part.family, purposes(part)


def another_kind(one: Part, other: Part) -> tuple[str, str] | None:
    """What each of two parts is in words, if one is of another kind than the other; None if it may be alike.

    They differ by family, or within one by having no purpose in common. Of a part that was made from readings
    nobody may know the family.
    """
    if any(part.source == MEASURED_SOURCE and part.family == UNKNOWN_FAMILY for part in (one, other)):
        return None
    if one.family != other.family:
        return one.family, other.family
    ours, theirs = purposes(one), purposes(other)
    if ours and theirs and not ours & theirs:
        return _said(one, ours), _said(other, theirs)
    return None


def _said(part: Part, what: frozenset[str]) -> str:
    return f"{part.family} ({', '.join(sorted(what))})"
