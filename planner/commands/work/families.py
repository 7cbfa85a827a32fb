"""A family by the name that a person gives it, refused with what it could be."""

from planner.model.catalogue import Catalogue
from planner.model.search import answering, find_parts, words_of
from planner.problems import UsageError
from planner.reading.validate import suggest


def known_family(name: str, catalogue: Catalogue) -> str:
    """The family, which may be said as people do ("light switches"); a finer kind is found by its words.

    Raises
    ------
    UsageError
        If no part is of it, or if the words may mean several.
    """
    families = sorted({part.family for part in catalogue.parts.values()})
    meant = answering([name], {family: frozenset(words_of(family)) for family in families})
    if name in families or len(meant) == 1:
        return name if name in families else meant[0]
    called = find_parts([name], catalogue).called
    near = suggest(name, families)
    if called:
        within = " and ".join(sorted({part.family for part in called}))
        hint = f"'loomwright parts {name.replace('-', ' ')}' finds {len(called)}, of the family {within}"
    else:
        hint = f"try {near}" if near else f"families: {', '.join(families)}"
    raise UsageError(f"there is no family {name!r}; {hint}")
