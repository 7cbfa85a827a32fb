"""Operating points of shipped looms: at rest, all moved, and each variable moved or left behind alone."""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.circuit.network import compile_network
from planner.currents.grid import Grid, branches_at
from planner.currents.solver import Branch
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom


@dataclass(frozen=True)
class Figure:
    """A published figure, as the tables hand it out."""

    value: float


class Tables:
    """A stand-in for the published tables: copper of 0.0185 ohm mm2/m, 0.1 V across a fuse at its rating."""

    def wire_ohms_per_metre(self, mm2: float, celsius: float = 20.0) -> Figure:
        """Resistance of a conductor; the temperature is left out."""
        return Figure(0.0185 / mm2)

    def fuse_ohms(self, rated_amps: float) -> Figure:
        """Resistance of a fuse."""
        return Figure(0.1 / rated_amps)


TABLES = Tables()


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


def points_of(grid: Grid, loom: Loom, catalogue: Catalogue) -> Iterator[tuple[str, list[Branch]]]:
    """Name and closed branches of each of these positions."""
    for name, position in positions(loom, catalogue):
        yield f"{loom.loom}, {name}", [branch for _, branch in branches_at(grid, position)]
