"""A loom as it is found, explained as a person would: what its circuits do, and what is odd about it."""

from collections.abc import Iterator

from planner.inquiry.loom.account import LoomAccount, SwapLine
from planner.inquiry.loom.colours import colour_lines
from planner.inquiry.loom.findings import assumed_lines, end_lines, hazard_lines, never_lines, terminal_lines
from planner.inquiry.loom.found import FoundLoom
from planner.inquiry.loom.loads import load_lines
from planner.inquiry.loom.marks import mark_lines
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Loom


def explain(loom: Loom, catalogue: Catalogue) -> LoomAccount:
    """Explain a loom whose references are sound.

    Raises TooLargeError if its circuit has more positions than can be looked at.
    """
    found = FoundLoom(loom, catalogue)
    loads = tuple(load_lines(found))
    findings = (
        *hazard_lines(found),
        *never_lines(found, loads),
        *terminal_lines(found),
        *end_lines(found),
        *colour_lines(found),
        *assumed_lines(found),
        *mark_lines(found),
    )
    return LoomAccount(loom.loom, loom.title or loom.loom, loom.supply.words, loads, findings, loom.not_seen)


def swap_lines(job: Job, loom: Loom, catalogue: Catalogue) -> Iterator[SwapLine]:
    """Yield what each swap of a job takes out and puts in."""
    for swap in job.swaps:
        there = loom.places.get(swap.at)
        old = catalogue.parts[there.part].title if there else ""
        new = catalogue.parts[swap.fit].title if swap.fit != "nothing" else ""
        yield SwapLine(swap.at, swap.title or loom.place_title(swap.at), old, new)
