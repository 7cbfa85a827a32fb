"""Our operating points against ngspice: thousands of random networks, and every shipped loom.

With ``-rP`` or ``-s`` pytest shows how many points were compared and how far apart they are at worst.
"""

import random

import pytest
from loom_points import grid_of, samples_of, tried_points
from random_branches import EARTH, SUPPLY_V, draw_network
from spice import Circuit, Comparison, Solver, all_at_once, compare_points, needs_ngspice, one_by_one

from planner.engine.packs import installed_rules
from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.pipeline import settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job, read_loom

pytestmark = needs_ngspice
LINEAR, NONLINEAR = 1000, 1500
LOOMS, JOBS = 7, 20  # shipped; more are welcome, fewer would be a fault of this test


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


def check_survey(said: str, loom: Loom, catalogue: Catalogue) -> None:
    """The operating points of a loom's survey, as it has them."""
    grid = grid_of(loom, catalogue)
    samples = samples_of(grid, loom, catalogue)
    circuits = [
        Circuit(f"sample {n}", [grid.branches[index].branch for index in sample.amps], grid.zero)
        for n, sample in enumerate(samples)
    ]
    check(said, compare_points(circuits, lambda _: [sample.point for sample in samples]), loom)


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


def test_surveys_of_shipped_looms_agree(catalogue) -> None:
    for name in sorted(catalogue.loom_files):
        check_survey(name, read_loom(name, catalogue), catalogue)


def test_what_shipped_jobs_leave_behind_agrees_in_positions_tried(catalogue) -> None:
    """Not in all positions of its survey: those of all jobs take 40 seconds."""
    assert len(catalogue.job_files) >= JOBS
    for name in sorted(catalogue.job_files):
        job, loom = read_job(name, catalogue)
        choice = settle(job, loom, catalogue, installed_rules(), Prover(loom, catalogue, job))
        check_tried(name, choice.chosen.candidate.loom, catalogue, one_by_one)
