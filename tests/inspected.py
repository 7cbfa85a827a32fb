"""A small loom with everything that the checks look at."""

from generated_looms import catalogue
from small_looms import Bench

from planner.currents.checks.inspection import Inspection
from planner.currents.grid import compile_grid
from planner.currents.positions import Positions
from planner.currents.survey import survey

TABLES = catalogue().standards


def inspected(bench: Bench) -> Inspection:
    """The inspection of a bench, with the published tables of the shipped catalogue."""
    found = survey(compile_grid(bench.loom, bench.catalogue, TABLES), Positions(bench.view))
    return Inspection(found, bench.loom, bench.catalogue, TABLES)
