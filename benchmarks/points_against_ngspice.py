"""Times operating points of the shipped van: our solver beside one ngspice process.

Both get the same sets of closed branches, ours as a table, ngspice as netlists already written: five circuits
a netlist, which is its quickest, all in one batch process. Ours runs on one core: all at once with a record
for each point, which is how the survey solves and what the aim is for; beside it point by point, and all at
once to columns of volts and amps without a record for each point. They take turns, so that other work on the
machine falls on all. Run it with ``uv run python -m benchmarks.points_against_ngspice``.
"""

import gc
import resource
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

import numpy as np

from benchmarks.arguments import rounds_of
from planner.currents.batch import Batch, solve_all
from planner.currents.grid import branches_at
from planner.currents.solver import Branch, solve
from planner.pipeline import open_catalogue
from planner.reading.catalogue import read_loom

TESTS = Path(__file__).parent.parent / "tests"
sys.path[:0] = [str(TESTS), str(TESTS / "outside")]  # netlists are written where the two are compared

from loom_points import grid_of, paired_points, samples_of  # noqa: E402
from spice import Circuit, Netlist, simulate, write  # noqa: E402

VAN = "skarrow-8"
ROUNDS = 7
SIDE_BY_SIDE = 5
TARGET = 20
AS_THE_SURVEY_DOES = "all at once"


def main() -> None:
    """Measure and print, for the positions of the survey and for every two variables moved."""
    rounds_of("points_against_ngspice", __doc__)
    catalogue = open_catalogue()
    loom = read_loom(VAN, catalogue)
    grid = grid_of(loom, catalogue)
    positions = [sample.position for sample in samples_of(grid, loom, catalogue)]
    own = [[branch for _, branch in branches_at(grid, position)] for position in positions]
    measure("of the survey", own, grid.zero)
    pairs = [branches for _, branches in paired_points(grid, loom, catalogue)]
    measure("with two variables moved", pairs, grid.zero)


def measure(name: str, points: Sequence[Sequence[Branch]], zero: str) -> None:
    """Time some points in every way."""
    branches = list({id(branch): branch for own in points for branch in own}.values())
    place = {id(branch): index for index, branch in enumerate(branches)}
    closed = np.zeros((len(branches), len(points)), dtype=bool)
    for column, own in enumerate(points):
        closed[[place[id(branch)] for branch in own], column] = True
    netlists = [Netlist(Circuit("", own, zero), number) for number, own in enumerate(points)]
    decks = [netlists[at : at + SIDE_BY_SIDE] for at in range(0, len(netlists), SIDE_BY_SIDE)]
    with TemporaryDirectory() as there:
        folder = Path(there)
        write(decks, folder)
        ways: dict[str, Callable[[], object]] = {
            "ngspice": lambda: simulate(folder),
            "one by one": lambda: [solve(own, zero) for own in points],
            AS_THE_SURVEY_DOES: lambda: solve_all(branches, closed, zero),
            "as columns": lambda: Batch(branches, closed, zero),
        }
        wall: dict[str, list[float]] = {way: [] for way in ways}
        cpu: dict[str, list[float]] = {way: [] for way in ways}
        gc.collect()
        gc.freeze()  # the catalogue and the netlists are no business of a collection during the work
        for _ in range(ROUNDS):
            for way, work in ways.items():
                began, cpu_began = time.perf_counter(), cpu_seconds()
                work()
                wall[way].append(time.perf_counter() - began)
                cpu[way].append(cpu_seconds() - cpu_began)
        if len(list(folder.glob("*.raw"))) != len(decks):
            raise SystemExit("ngspice did not find every operating point")
    print(f"{len(points)} points {name}, median of {ROUNDS} runs in turn, milliseconds a point")
    for way in ways:
        by_wall, by_cpu = (1e3 * median(times[way]) / len(points) for times in (wall, cpu))
        print(f"  {way:<12} {by_wall:7.3f} wall {by_cpu:7.3f} cpu")
    for way in ("one by one", AS_THE_SURVEY_DOES, "as columns"):
        by_wall, by_cpu = (median(times["ngspice"]) / median(times[way]) for times in (wall, cpu))
        met = "met" if by_cpu >= TARGET else "MISSED"
        aim = f" (as the survey solves; target: {TARGET}; {met})" if way == AS_THE_SURVEY_DOES else ""
        print(f"  ngspice / {way}: {by_wall:.1f} by wall, {by_cpu:.1f} by cpu{aim}")


def cpu_seconds() -> float:
    """CPU time of this process and of those that it ran."""
    own, children = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return own.ru_utime + own.ru_stime + children.ru_utime + children.ru_stime


if __name__ == "__main__":
    main()
