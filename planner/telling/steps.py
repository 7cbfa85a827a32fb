"""The steps of a settled loom, in order and in words."""

from planner.engine.costs import minutes
from planner.engine.judged import Candidate
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom
from planner.workshop.worklist import WorkList


def work_list(job: Job, loom: Loom, catalogue: Catalogue, candidate: Candidate, facts: Facts) -> WorkList:
    """The steps of a settled loom in their order; ``facts`` say what each conductor was before."""
    after = candidate.loom
    return WorkList(
        loom,
        after,
        candidate.steps,
        catalogue,
        job,
        facts,
        lambda operations: minutes(operations, after, catalogue, job.minutes),
    )
