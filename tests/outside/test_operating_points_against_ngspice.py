"""Our operating points against ngspice: thousands of random networks, and every shipped loom.

With ``-rP`` or ``-s`` pytest shows how many points were compared and how far apart they are at worst.
"""

import random
from collections.abc import Callable, Iterator

import pytest
from loom_points import grid_of, surveyed_points, tried_points
from random_branches import EARTH, SUPPLY_V, draw_network
from spice import Circuit, compare_points, needs_ngspice

from planner.currents.grid import Grid
from planner.currents.solver import Branch
from planner.engine.packs import installed_rules
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.pipeline import settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job, read_loom

pytestmark = needs_ngspice
LINEAR, NONLINEAR = 1000, 1500
LOOMS, JOBS = 7, 20  # shipped; more are welcome, fewer would be a fault of this test
Points = Callable[[Grid, Loom, Catalogue], Iterator[tuple[str, list[Branch]]]]


@pytest.mark.parametrize(
    ("kind", "count", "share"), [("linear", LINEAR, 1e-6), ("nonlinear", NONLINEAR, 1e-4)]
)
def test_random_networks_agree(kind: str, count: int, share: float) -> None:
    """Within a millionth of the supply voltage, with lamps and diodes within a ten-thousandth."""
    circuits = []
    for seed in range(count):
        branches = draw_network(random.Random(f"{kind} {seed}"), is_linear=kind == "linear")
        circuits.append(Circuit(f"{kind} network {seed}", branches, EARTH))
    compared = compare_points(circuits)
    print(f"{kind}: {compared}")
    assert compared.points == count and compared.nodes > 4 * count
    assert compared.worst_v <= share * SUPPLY_V, str(compared)


def compare_loom(loom: Loom, catalogue: Catalogue, points: Points, said: str) -> None:
    """Both solvers on the points of one loom."""
    grid = grid_of(loom, catalogue)
    circuits = [Circuit(name, found, grid.zero) for name, found in points(grid, loom, catalogue)]
    compared = compare_points(circuits)
    print(f"{said}: {compared}")
    assert compared.points == len(circuits) > 1
    assert compared.worst_v <= 1e-4 * loom.supply.volts, f"{said}: {compared}"


@pytest.mark.parametrize("points", [tried_points, surveyed_points])
def test_shipped_looms_agree(catalogue, points) -> None:
    """In positions tried without knowing anything of the loom, and in those that its survey looks at."""
    assert len(catalogue.loom_files) >= LOOMS
    for name in sorted(catalogue.loom_files):
        compare_loom(read_loom(name, catalogue), catalogue, points, name)


def test_what_shipped_jobs_leave_behind_agrees(catalogue) -> None:
    """The loom after each job, in every position that its survey looks at."""
    assert len(catalogue.job_files) >= JOBS
    for name in sorted(catalogue.job_files):
        job, loom = read_job(name, catalogue)
        choice = settle(job, loom, catalogue, installed_rules(), Prover(loom, catalogue, job))
        compare_loom(choice.chosen.candidate.loom, catalogue, surveyed_points, name)
