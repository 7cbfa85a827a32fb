"""Vehicles as they should be after shipped jobs, each settled once, with their grids and mistakes."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from planner.currents.grid import Grid, compile_grid
from planner.model.catalogue import Catalogue
from planner.pipeline import open_catalogue
from planner.sheet_pipeline import wired
from planner.testing.mistakes.every import every_mistake
from planner.testing.mistakes.mistake import Mistake
from planner.testing.wired import Wired


@dataclass(frozen=True)
class Ground:
    """One vehicle and everything that can be wrong with it."""

    wired: Wired
    catalogue: Catalogue
    grid: Grid
    mistakes: Mapping[str, Mistake]


@lru_cache(maxsize=1)
def catalogue() -> Catalogue:
    return open_catalogue()


@lru_cache(maxsize=8)
def ground(name: str) -> Ground:
    """The vehicle of a shipped job or loom."""
    known = catalogue()
    vehicle = wired(name, known)
    grid = compile_grid(vehicle.loom, known, known.standards)
    mistakes = {m.id: m for m in every_mistake(vehicle, grid, known)}
    return Ground(vehicle, known, grid, mistakes)
