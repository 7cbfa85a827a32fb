"""The steps of a settled loom, in order and in words."""

from collections.abc import Iterator, Sequence

from planner.engine.costs import minutes
from planner.engine.judged import Candidate
from planner.model.catalogue import Catalogue
from planner.model.facts import Facts
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.strain import Strain
from planner.workshop.steps.worklist import WorkList


def work_list(
    job: Job,
    loom: Loom,
    catalogue: Catalogue,
    candidate: Candidate,
    facts: Facts,
    strains: Sequence[Strain] = (),
) -> WorkList:
    """The steps of a settled loom in their order.

    ``facts`` say what each conductor was before, ``strains`` what each wire carries after and which fuse
    is too large for its wire; without them wires are told apart by their size.
    """
    after = candidate.loom
    return WorkList(
        loom,
        after,
        candidate.steps,
        catalogue,
        job,
        facts,
        lambda operations: minutes(operations, loom, after, catalogue, job.minutes),
        {(s.at, s.leg): s.value for s in strains if s.kind == "wire" and s.leg is not None},
        dict(_over_wires(strains, catalogue)),
    )


def _over_wires(strains: Sequence[Strain], catalogue: Catalogue) -> Iterator[tuple[str, float | None]]:
    """Yield each fuse that lets more through than a wire behind it stands, and one that would do, in A."""
    for strain in strains:
        if strain.kind == "fuse-over-wire" and strain.path and strain.is_over:
            enough = catalogue.standards.fuse_between(strain.carries or 0.0, strain.limit)
            yield strain.path[0], enough.value if enough is not None else None
