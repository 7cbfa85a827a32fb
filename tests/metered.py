"""Jobs with their meter pages, and the vehicle of each solved anew for any of its tests."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import inf

from testing_ground import catalogue

from planner.currents.currents import Currents
from planner.currents.grid import is_met
from planner.currents.laws import Emf
from planner.currents.ohmmeter import dead_branch
from planner.currents.solver import Branch
from planner.engine.packs import installed_rules
from planner.model.meter_page import MeterPage, MeterTest
from planner.pipeline import settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job
from planner.telling.describe import describe
from planner.telling.steps import work_list
from planner.testing.mistakes.applied import Edit
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.ground import SLIPS, Ground
from planner.testing.page.page import meter_page
from planner.testing.page.points import solve_sets
from planner.testing.page.steps import StepsOf
from planner.testing.wired import Wired


@dataclass(frozen=True)
class Metered:
    """One job, its vehicle as it should be, and its meter page."""

    ground: Ground
    page: MeterPage

    @property
    def sign(self) -> float:
        return 1.0 if self.ground.wired.loom.supply.earthed == "negative" else -1.0

    @cached_property
    def slips(self) -> Mapping[str, Mistake]:
        return {mistake.id: mistake for mistake in self.ground.mistakes(SLIPS)}

    def position(self, test: MeterTest) -> dict[str, str]:
        """How the vehicle stands in a test: settled from rest, with what has to be remembered."""
        settings = dict(test.settings)
        stands = self.ground.stands
        kept = {name: value for name, value in settings.items() if name not in stands.controls}
        return {**stands.at(settings).position, **kept}

    def network(self, test: MeterTest, law: Callable[[Branch], Branch] = lambda b: b) -> list[Branch]:
        """What is closed in a test, each branch as ``law`` makes it."""
        grid = self.ground.grid
        return [law(grid.bare[index]) for index in grid.closed(self.position(test))]


@lru_cache(maxsize=8)
def metered(name: str) -> Metered:
    known = catalogue()
    job, loom = read_job(name, known)
    prover = Prover(loom, known, job)
    currents = Currents(prover)
    choice = settle(job, loom, known, installed_rules(), prover, currents)
    candidate = choice.chosen.candidate
    proof = prover.prove(candidate.loom)
    plan = describe(job, loom, known, choice, prover, proof, currents)
    work = work_list(job, loom, known, candidate, prover.facts)
    wired = Wired(job.title or job.job, candidate.loom, loom, candidate.steps)
    ground = Ground(wired, currents.inspection(candidate.loom), known)
    return Metered(ground, meter_page(ground, plan.behaviours, StepsOf(candidate.loom, work.ordered)))


def branches_with(van: Metered, test: MeterTest, edit: Edit) -> list[Branch]:
    position, grid = van.position(test), van.ground.grid
    kept = [grid.bare[index] for index in grid.closed(position) if index not in edit.gone]
    return kept + [gated.branch for gated in edit.added if is_met(gated.guard, position)]


def readings(van: Metered, edits: list[Edit], tests: Sequence[MeterTest]) -> list[list[float]]:
    """For each edit what every test reads, solved in full; dead tests first."""
    live = [test for test in tests if test.unit == "V"]
    dead = [test for test in tests if test.unit == "ohm"]
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
