"""CPU time of the whole van's meter page, and of the fewest readings that prove it as built.

The plan is made once; then page and proof are made from nothing, so many rounds, and the medians are told.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import time
from statistics import median

from benchmarks.arguments import rounds_of
from planner.currents.currents import Currents
from planner.engine.packs import installed_rules
from planner.pipeline import open_catalogue, settle
from planner.proof.prove import Prover
from planner.reading.catalogue import read_job
from planner.telling.describe import describe
from planner.telling.steps import work_list
from planner.testing.as_built.as_built import as_built
from planner.testing.page.ground import Ground
from planner.testing.page.page import meter_page
from planner.testing.page.steps import StepsOf
from planner.testing.wired import Wired

ROUNDS = 7
JOB = "whole-van"


def main() -> None:
    rounds = rounds_of("meter_page", __doc__, ROUNDS)
    catalogue = open_catalogue()
    began = time.process_time()
    job, loom = read_job(JOB, catalogue)
    prover = Prover(loom, catalogue, job)
    currents = Currents(prover)
    choice = settle(job, loom, catalogue, installed_rules(), prover, currents)
    candidate = choice.chosen.candidate
    after = candidate.loom
    plan = describe(job, loom, catalogue, choice, prover, prover.prove(after), currents)
    steps = StepsOf(after, work_list(job, loom, catalogue, candidate, prover.facts).ordered)
    print(f"{JOB}: planned in {time.process_time() - began:.2f} s")
    wired = Wired(JOB, after, loom, candidate.steps)
    pages, proofs = [], []
    for _ in range(rounds):
        ground = Ground(wired, currents.inspection(after), catalogue)
        began = time.process_time()
        page = meter_page(ground, plan.behaviours, steps)
        pages.append(time.process_time() - began)
        began = time.process_time()
        built = as_built(ground, steps)
        proofs.append(time.process_time() - began)
    print(
        f"meter page: {len(page.tests)} tests, {len(page.untested)} mistakes not shown: {median(pages):.2f} s"
    )
    print(
        f"as built: {len(built.tests)} readings ({built.at_least} at least) show {built.exposed} of "
        f"{built.mistakes} mistakes: {median(proofs):.2f} s"
    )


if __name__ == "__main__":
    main()
