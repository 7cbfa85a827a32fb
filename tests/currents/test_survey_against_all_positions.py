"""The extremes found variable by variable are those that trying every position finds."""

from itertools import product

from generated_looms import catalogue
from random_looms import draw

from planner.currents.grid import compile_grid
from planner.currents.positions import Positions
from planner.currents.solver import solve
from planner.currents.survey import survey
from planner.currents.surveyed import Survey

LOOMS = 200
EXACT = 1e-6
LEAST_AMPS = 0.01  # stray currents between earths are nobody's worst
TABLES = catalogue().standards


def surveyed(seed: int) -> tuple[Survey, Positions]:
    bench = draw(seed)
    positions = Positions(bench.view)
    return survey(compile_grid(bench.loom, bench.catalogue, TABLES), positions), positions


def every_position(positions: Positions):
    """Every setting of the controls with every state of the relays that lasts in it."""
    view = positions.view
    hidden = view.states.hidden
    free = [v for v in positions.sizes if v not in hidden]
    for values in product(*(range(positions.sizes[v]) for v in free)):
        setting = dict(zip(free, values, strict=True))
        states = [{}]
        for table in positions.together:
            own = [v for v in table.scope if v in hidden]
            states = [
                known | dict(zip(own, (row[table.scope.index(v)] for v in own), strict=True))
                for known in states
                for row in table.rows
                if all(setting.get(v, row[i]) == row[i] for i, v in enumerate(table.scope))
            ]
        for state in states:
            yield setting | state


def missed(seed: int) -> float:
    """By what share the survey stays below the worst of all positions, at the branch or load furthest off."""
    found, positions = surveyed(seed)
    grid = found.grid
    most: dict[int, float] = {}
    least: dict[tuple[str, str], float] = {}
    for assignment in every_position(positions):
        closed = grid.closed(positions.labels(assignment))
        point = solve([grid.branches[i].branch for i in closed], grid.zero)
        for index, amps in zip(closed, point.amps, strict=True):
            most[index] = max(most.get(index, 0.0), abs(amps))
        for key in positions.loads:
            if positions.is_full(key, positions.row_of(key, assignment)):
                volts = abs(point.across(grid.branches[grid.loads[key]].branch))
                least[key] = min(least.get(key, 99.0), volts)
    seen = {index: max(abs(sample.amps[index]) for sample in found.samples) for index in most}
    assert set(found.least_volts) == set(least)
    shares = [(amps - seen[index]) / amps for index, amps in most.items() if amps > LEAST_AMPS]
    shares += [(found.least_volts[key].value - volts) / volts for key, volts in least.items()]
    assert min(shares) > -1e-6  # what the survey found is one of all positions
    return max(shares)


def test_the_worst_of_every_branch_and_load_is_the_worst_of_all_positions() -> None:
    """Where two positions are nearly alike in the sum of their loads, the lesser may be taken: seldom."""
    shares = [missed(seed) for seed in range(LOOMS)]
    inexact = [share for share in shares if share > EXACT]
    print(f"{LOOMS} looms, {len(inexact)} not exact, worst {max(shares):.2%}")
    assert len(inexact) <= LOOMS // 100
    assert max(shares) < 0.04
