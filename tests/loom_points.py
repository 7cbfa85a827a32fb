"""Operating points of a loom: at rest, all moved, each variable moved or left behind alone; its survey."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from planner.circuit.compile import compile_network
from planner.circuit.store import Store
from planner.circuit.tree import Projector
from planner.currents.grid import Grid, branches_at, compile_grid
from planner.currents.positions import Positions
from planner.currents.sample import Sample
from planner.currents.solver import Branch
from planner.currents.survey import survey
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.proof.behaviour import View


def grid_of(loom: Loom, catalogue: Catalogue) -> Grid:
    """The grid of a loom by the published tables."""
    return compile_grid(loom, catalogue, catalogue.standards)


def positions(loom: Loom, catalogue: Catalogue) -> Iterator[tuple[str, dict[str, str]]]:
    """Name and position; armatures, steps, cams and beats are moved like controls, wherever they would go."""
    variables = compile_network(loom, catalogue).variables
    rest = {name: variable.values[0] for name, variable in variables.items()}
    moved = {name: variable.values[-1] for name, variable in variables.items()}
    for said, start in (("at rest", rest), ("all moved", moved)):
        yield said, start
        for name, variable in variables.items():
            for value in variable.values:
                if value != start[name]:
                    yield f"{said}, but {name} {value}", {**start, name: value}


def tried_points(grid: Grid, loom: Loom, catalogue: Catalogue) -> Iterator[tuple[str, list[Branch]]]:
    """Name and closed branches of each of these positions."""
    for name, position in positions(loom, catalogue):
        yield f"{loom.loom}, {name}", [branch for _, branch in branches_at(grid, position)]


def samples_of(grid: Grid, loom: Loom, catalogue: Catalogue) -> Sequence[Sample]:
    """Every operating point that is looked at for the worst of the loom, solved as its survey does."""
    sign = 1.0 if loom.supply.earthed == "negative" else -1.0
    view = View(loom, catalogue, Store(sign * loom.supply.volts), Projector())
    return survey(grid, Positions(view)).samples


def paired_points(grid: Grid, loom: Loom, catalogue: Catalogue) -> Iterator[tuple[str, list[Branch]]]:
    """Name and closed branches of every position in which two variables are moved."""
    variables = compile_network(loom, catalogue).variables
    rest = {name: variable.values[0] for name, variable in variables.items()}
    moves = [(name, value) for name, variable in variables.items() for value in variable.values[1:]]
    for one, other in combinations(moves, 2):
        if one[0] != other[0]:
            position = {**rest, one[0]: one[1], other[0]: other[1]}
            yield f"{loom.loom}, {one}, {other}", [branch for _, branch in branches_at(grid, position)]
