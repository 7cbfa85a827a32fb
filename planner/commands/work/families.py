"""A family by the name that a person gives it, refused with what it could be."""

from planner.model.catalogue import Catalogue
from planner.model.search import find_parts
from planner.problems import UsageError
from planner.reading.validate import suggest


def check_family(name: str, catalogue: Catalogue) -> None:
    """Raise UsageError if no part is of a family; a finer kind is found by its words instead."""
    families = sorted({part.family for part in catalogue.parts.values()})
    if name in families:
        return
    called = find_parts([name], catalogue).called
    near = suggest(name, families)
    if called:
        within = " and ".join(sorted({part.family for part in called}))
        hint = f"'loomwright parts {name.replace('-', ' ')}' finds {len(called)}, of the family {within}"
    else:
        hint = f"try {near}" if near else f"families: {', '.join(families)}"
    raise UsageError(f"there is no family {name!r}; {hint}")
