"""All mistakes of one vehicle, each once: of two that change the same, the likelier one stays."""

from planner.currents.grid import Grid
from planner.model.catalogue import Catalogue
from planner.testing.mistakes.conductors import Conductors
from planner.testing.mistakes.ends import Ends
from planner.testing.mistakes.inside import Inside
from planner.testing.mistakes.like_parts import LikeParts
from planner.testing.mistakes.mistake import Change, Mistake
from planner.testing.mistakes.nearby import Nearby
from planner.testing.mistakes.steps import Steps
from planner.testing.mistakes.unfinished import Unfinished
from planner.testing.wired import Wired


def every_mistake(wired: Wired, grid: Grid, catalogue: Catalogue) -> tuple[Mistake, ...]:
    """Every single mistake of a vehicle; ``grid`` is that of its loom as it should be."""
    found: dict[tuple[Change, ...], Mistake] = {}
    for mistake in (
        *Steps(wired, catalogue).every(),
        *Unfinished(wired, grid, catalogue).every(),
        *Ends(wired, catalogue).every(),
        *Nearby(wired, catalogue).every(),
        *LikeParts(wired, catalogue).every(),
        *Conductors(wired, grid).every(),
        *Inside(wired, grid, catalogue).every(),
    ):
        known = found.get(mistake.changes)
        if known is None or known.weight < mistake.weight:
            found[mistake.changes] = mistake
    return tuple(found.values())
