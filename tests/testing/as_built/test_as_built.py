"""The fewest readings of shipped jobs: what they claim to show fails one of them, solved in full."""

from functools import lru_cache

import pytest
from metered import Metered, metered, readings

from planner.model.meter_page import AsBuilt
from planner.testing.as_built.as_built import WIRING, as_built
from planner.testing.page.judging import judge
from planner.testing.page.steps import StepsOf

JOBS = ("two-speed-wipers", "dip-relay-five-to-four", "two-ends-trade", "car-to-negative-earth")


@lru_cache(maxsize=8)
def built(job: str) -> tuple[Metered, AsBuilt]:
    van = metered(job)
    return van, as_built(van.ground, StepsOf(van.ground.wired.loom, []))


@pytest.mark.parametrize("job", JOBS)
def test_every_mistake_that_is_claimed_fails_one_of_the_readings(job: str) -> None:
    van, found = built(job)
    mistakes = {mistake.id: mistake for mistake in van.ground.mistakes(WIRING)}
    edits = van.ground.exposer.edits(list(mistakes.values()))
    tests = sorted(found.tests, key=lambda test: test.unit != "ohm")
    passed = {
        mistakes[name].words
        for ((name, _), _), own in zip(edits, readings(van, [e for _, e in edits], tests), strict=True)
        if all(judge(t, "", value).verdict == "good" for t, value in zip(tests, own, strict=True))
    }
    assert passed <= set(found.missed)
    assert found.mistakes == found.exposed + len(found.missed)


@pytest.mark.parametrize("job", JOBS)
def test_no_smaller_set_shows_as_much(job: str) -> None:
    _, found = built(job)
    assert found.is_smallest and found.tests


def test_what_is_alike_is_named_by_its_places() -> None:
    """On the horn's feed the parked switch earths that too: its fuse goes, and no test of the wiper tells."""
    _, found = built("two-speed-wipers")
    off = [group for group in found.alike if any("(W36) is off 53 on" in words for words in group)]
    assert off == [
        (
            "the yellow wire (W36) is off 53 on the wiper switch, dash",
            "the yellow wire (W36) is off 53 on the wiper motor, scuttle",
            "the yellow wire (W36) is on 53b instead of 53 on the wiper motor, scuttle",
            "the yellow wire (W36) is on + on the horn, instead of 53 on the wiper motor, scuttle",
        )
    ]


def test_a_joint_of_unknown_ohms_that_shows_in_some_sizes_only_is_told_from_what_reads_otherwise() -> None:
    """Two ends of the horn get other terminals; crimped badly, each shows from some ohms on."""
    _, found = built("launch-horn-earthed-by-body")
    assert (found.mistakes, found.exposed, found.alike) == (4, 4, ())
