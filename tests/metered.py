"""Jobs with their meter pages, and the vehicle of each solved anew for any of its tests."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

from testing_ground import catalogue

from planner.currents.currents import Currents
from planner.currents.solver import Branch
from planner.engine.packs import installed_rules
from planner.model.meter_page import MeterPage, MeterTest
from planner.pipeline import settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job
from planner.telling.describe import describe
from planner.telling.steps import work_list
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.ground import SLIPS, Ground
from planner.testing.page.page import meter_page
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
