"""A vehicle that only its generator feeds, or that a job leaves so: its description lacks a line.

With no battery on its wires and no feed at its edge, all of it hangs on one floating net, past all proof.
A piece without a generator is no such fault: it is dark, and of what never works the plan asks.
"""

from collections.abc import Iterator, Mapping

from planner.model.elements import Source
from planner.model.job import Job
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor
from planner.problems import Problem
from planner.reading.fitted_references import parts_of
from planner.reading.yaml_source import Document

_FEED = 'feeds: {"feed:battery": always live}'


def unfed_problems(loom: Loom, document: Document, parts: Mapping[str, Part]) -> Iterator[Problem]:
    """Yield it as a problem if a loom has a generator and nothing feeds it all the same."""
    fitted = parts_of(loom, parts)
    if not _generators(fitted) or len(fitted) < len(loom.places) or not loom.wires or _has_feed(loom):
        return
    lacking = _lacking(loom, parts)
    if not all(lacking.values()):
        return
    for place, posts in lacking.items():
        message = f"nothing feeds this loom: no wire joins {' or '.join(posts)} to the rest"
        hint = f"under wires, what is on {posts[0]} in the vehicle"
        yield Problem(document.key_place(("places", place)), message, hint=hint)
        return
    message = "nothing feeds this loom: no place is a battery, and no wire begins at a feed"
    hint = f"a battery among the places, a wire on each post; or where a wire comes from outside, {_FEED}"
    yield Problem(document.value_place(("supply",)), message, hint=hint)


def left_unfed_problems(
    job: Job, document: Document, loom: Loom, parts: Mapping[str, Part]
) -> Iterator[Problem]:
    """Yield it as a problem if a job takes out the only battery, fits none and leaves a generator."""
    before = set(_lacking(loom, parts))
    if not _generators(parts_of(loom, parts)) - {swap.at for swap in job.swaps}:
        return
    fits = {swap.at for swap in job.swaps if swap.fit in parts and parts[swap.fit].battery_posts}
    if before - {swap.at for swap in job.swaps} | fits or not before or _has_feed(loom):
        return
    for index, swap in enumerate(job.swaps):
        if swap.at in before:
            message = "with this battery out, nothing feeds the vehicle any more"
            hint = "another battery in its place or in a new one, or a swap less"
            yield Problem(document.value_place(("swaps", index, "fit")), message, hint=hint)


def _generators(fitted: Mapping[str, Part]) -> set[str]:
    """The places of what gives something now and then only."""
    return {
        place for place, part in fitted.items() if any(isinstance(e, Source) and e.when for e in part.inside)
    }


def _has_feed(loom: Loom) -> bool:
    return any(split_address(end.at)[0] == "feed" for wire in loom.wires for end in wire.ends)


def _lacking(loom: Loom, parts: Mapping[str, Part]) -> dict[str, list[str]]:
    """Each battery, and the posts of it that no wire leads anywhere."""
    return {
        place: [at for post in part.battery_posts if len(conductor(loom, at := f"{place}:{post}")) == 1]
        for place, part in parts_of(loom, parts).items()
        if part.battery_posts
    }
