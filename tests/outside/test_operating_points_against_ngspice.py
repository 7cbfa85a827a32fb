"""Our operating points against ngspice: thousands of random networks, and every shipped loom.

With ``-rP`` or ``-s`` pytest shows how many points were compared and how far apart they are at worst.
"""

import random

import pytest
from loom_points import TABLES, points_of
from random_branches import EARTH, SUPPLY_V, draw_network
from spice import Circuit, compare_points, needs_ngspice

from planner.currents.grid import compile_grid
from planner.reading.catalogue import read_loom

pytestmark = needs_ngspice
LINEAR, NONLINEAR = 1000, 1500
LOOMS = 7  # shipped; more are welcome, fewer would be a fault of this test


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


def test_shipped_looms_agree_in_every_position_tried(catalogue) -> None:
    assert len(catalogue.loom_files) >= LOOMS
    for name in sorted(catalogue.loom_files):
        loom = read_loom(name, catalogue)
        grid = compile_grid(loom, catalogue, TABLES)
        circuits = [Circuit(said, found, grid.zero) for said, found in points_of(grid, loom, catalogue)]
        compared = compare_points(circuits)
        print(f"{name}: {compared}")
        assert compared.points == len(circuits) > 1
        assert compared.worst_v <= 1e-4 * loom.supply.volts, str(compared)
