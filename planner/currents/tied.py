"""Which positions tie sources to one another: no load need depend on them, so they are looked for as such.

The first view tells where two live conductors meet; between feeds at the edge of a loom, which are all of
the same volts, nothing flows there, and neither does between two fuses of one battery.
"""

from collections.abc import Iterator

from planner.circuit.tree import Function
from planner.currents.grid import Grid
from planner.currents.positions import Positions
from planner.currents.sums import IMPOSSIBLE, Sums, every_row


def ties(grid: Grid, positions: Positions) -> Iterator[Sums]:
    """Yield the settings in which live conductors meet, if there is a battery and anything beside it."""
    given = [gated for gated in grid.branches if gated.kind == "feed"]
    batteries = [gated for gated in grid.branches if gated.kind == "source" and not gated.guard]
    if not batteries or len(batteries) + len(given) < 2:
        return
    for name, event in positions.view.events.items():
        if name[0] == "tie":
            yield _settings(event.function, positions)


def _settings(function: Function, positions: Positions) -> Sums:
    scope = tuple(sorted(function.support))
    rows = every_row(scope, positions.sizes)
    return {scope: [0.0 if function.at(dict(zip(scope, row, strict=True))) else IMPOSSIBLE for row in rows]}
