"""What a name in a ``when`` may mean: a loom's condition, or a variable of the part at one place."""

from collections.abc import Mapping

from planner.model.loom import Loom
from planner.model.part import Part


def variables_of(loom: Loom, parts: Mapping[str, Part]) -> dict[str, tuple[str, ...]]:
    """Every variable of a loom and its labels, rest first: conditions by name, others as ``place/name``."""
    found = {name: tuple(p.label for p in positions) for name, positions in loom.conditions.items()}
    for place, fitted in loom.places.items():
        part = parts.get(fitted.part)
        for name, labels in part.variables.items() if part else ():
            found[f"{place}/{name}"] = labels
    return found


def meanings_of_name(name: str, variables: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """The variables that a name may mean; more than one is ambiguous.

    A full name means itself; a bare one is a condition first, then any place's variable of that name.
    """
    if name in variables:
        return (name,)
    return tuple(full for full in variables if full.partition("/")[2] == name)
