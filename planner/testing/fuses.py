"""What the fuses of one vehicle are rated for, by the branches that they are."""

from collections.abc import Mapping

from planner.currents.grid import Grid
from planner.model.elements import Fuse
from planner.model.fitted_fuse import fuse_as_fitted
from planner.model.loom import Loom
from planner.model.part import Part


def rated_amps(grid: Grid, loom: Loom, parts: Mapping[str, Part]) -> dict[int, float]:
    """The amps that each fuse carries for good, by the number of its branch; also fuses of feeds."""
    found = {}
    for index, gated in enumerate(grid.branches):
        name = gated.branch.name
        if gated.kind == "fuse":
            element = parts[loom.places[name[1]].part].inside[int(name[2])]
            assert isinstance(element, Fuse)
            fuse = fuse_as_fitted(loom, name[1], element)
            found[index] = fuse.amps / (1 if fuse.marked == "continuous" else 2)
        elif gated.kind == "feed" and (amps := loom.feeds[name[1]].fuse_amps):
            found[index] = amps
    return found
