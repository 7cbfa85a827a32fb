"""Each mistake at each changed end fails a test, or the page says that none shows it."""

from math import inf

import pytest
from metered import Metered, metered

from planner.currents.grid import is_met
from planner.currents.laws import Emf
from planner.currents.ohmmeter import dead_branch
from planner.currents.solver import Branch
from planner.model.meter_page import MeterTest
from planner.testing.mistakes.applied import Edit
from planner.testing.page.judging import judge
from planner.testing.page.points import solve_sets

JOBS = ("two-speed-wipers", "car-to-negative-earth", "dip-relay-five-to-four", "two-ends-trade")


def branches_with(van: Metered, test: MeterTest, edit: Edit) -> list[Branch]:
    position, grid = van.position(test), van.ground.grid
    kept = [grid.bare[index] for index in grid.closed(position) if index not in edit.gone]
    return kept + [gated.branch for gated in edit.added if is_met(gated.guard, position)]


def readings(van: Metered, edits: list[Edit]) -> list[list[float]]:
    """For each edit what every test reads, solved in full."""
    live = [test for test in van.page.tests if test.unit == "V"]
    dead = [test for test in van.page.tests if test.unit == "ohm"]
    found: list[list[float]] = [[] for _ in edits]
    meters = {test.id: Branch(("meter",), test.at, test.to, Emf(0.2, 100.0)) for test in dead}
    for test in dead:
        sets = [
            [meters[test.id]]
            + [
                law
                for branch in branches_with(van, test, edit)
                if branch.name[0] not in ("source", "feed", "fuse")
                and (law := dead_branch(branch)) is not None
            ]
            for edit in edits
        ]
        for own, point in zip(found, solve_sets(sets, test.to), strict=True):
            amps = point.amps[0]
            own.append(-point.across(meters[test.id]) / amps if abs(amps) > 1e-9 else inf)
    for test in live:
        sets = [branches_with(van, test, edit) for edit in edits]
        for own, point in zip(found, solve_sets(sets, van.ground.grid.zero), strict=True):
            volts = point.volts
            known = {test.at, test.to} <= set(volts)
            own.append(van.sign * (volts[test.at] - volts[test.to]) if known else 0.0)
    return found


@pytest.mark.parametrize("job", JOBS)
def test_a_mistake_fails_a_test_or_is_told_as_not_shown(job: str) -> None:
    van = metered(job)
    edits = van.ground.exposer.edits(list(van.slips.values()))
    tests = sorted(van.page.tests, key=lambda test: test.unit != "ohm")
    passed = set()
    for ((name, _), _), own in zip(edits, readings(van, [edit for _, edit in edits]), strict=True):
        if all(judge(test, "", value).verdict == "good" for test, value in zip(tests, own, strict=True)):
            passed.add(van.slips[name].words)
    assert len(edits) > 3
    assert passed <= set(van.page.untested)
