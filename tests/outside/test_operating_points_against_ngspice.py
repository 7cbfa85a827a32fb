"""Our operating points against ngspice: thousands of random networks, and every shipped loom.

With ``-rP`` or ``-s`` pytest shows how many points were compared and how far apart they are at worst.
"""

import random

import pytest
from loom_points import grid_of, samples_of, tried_points
from planned import settled
from random_branches import EARTH, SUPPLY_V, draw_network
from spice import Circuit, Comparison, Solver, all_at_once, compare_points, needs_ngspice, one_by_one

from planner.currents.grid import branches_at
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.reading.catalogue import read_loom

pytestmark = needs_ngspice
LINEAR, NONLINEAR = 1000, 1500
LOOMS, JOBS, POINTS = 22, 79, 3500  # shipped; more are welcome, fewer would be a fault of this test


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


def check(said: str, compared: Comparison, loom: Loom) -> None:
    """Print what was found, and hold it against the limit for lamps and diodes."""
    print(f"{said}: {compared}")
    assert compared.points > 1
    assert compared.worst_v <= 1e-4 * loom.supply.volts, f"{said}: {compared}"


def check_survey(said: str, loom: Loom, catalogue: Catalogue) -> Comparison:
    """Every operating point of a loom's survey, solved as its survey does."""
    grid = grid_of(loom, catalogue)
    samples = samples_of(grid, loom, catalogue)
    circuits = [
        Circuit(f"sample {n}", [branch for _, branch in branches_at(grid, sample.position)], grid.zero)
        for n, sample in enumerate(samples)
    ]
    compared = compare_points(circuits, lambda _: [sample.point for sample in samples])
    check(said, compared, loom)
    return compared


def check_tried(said: str, loom: Loom, catalogue: Catalogue, solver: Solver) -> None:
    """Positions tried without knowing what the loom does in them."""
    grid = grid_of(loom, catalogue)
    circuits = [Circuit(name, found, grid.zero) for name, found in tried_points(grid, loom, catalogue)]
    check(said, compare_points(circuits, solver), loom)


@pytest.mark.parametrize("solver", [one_by_one, all_at_once])
def test_shipped_looms_agree_in_positions_tried(catalogue, solver) -> None:
    assert len(catalogue.loom_files) >= LOOMS
    for name in sorted(catalogue.loom_files):
        check_tried(name, read_loom(name, catalogue), catalogue, solver)


def test_every_operating_point_of_every_shipped_loom_and_job_agrees(catalogue) -> None:
    """The looms before, and what each job leaves behind: all the points that a plan's figures come from."""
    assert len(catalogue.job_files) >= JOBS
    looms = [(name, read_loom(name, catalogue)) for name in sorted(catalogue.loom_files)]
    looms += [(f"after {name}", settled(name)[1]) for name in sorted(catalogue.job_files)]
    compared = [(check_survey(name, loom, catalogue), loom.supply.volts) for name, loom in looms]
    points = sum(one.points for one, _ in compared)
    worst = max(one.worst_v / volts for one, volts in compared)
    print(
        f"{len(looms)} looms, {points} operating points, worst difference {worst:.1e} of the supply voltage"
    )
    assert points > POINTS
