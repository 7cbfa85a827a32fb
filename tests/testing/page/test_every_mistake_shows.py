"""Each mistake at each changed end fails a test, or the page says that none shows it."""

import pytest
from metered import metered, readings

from planner.testing.page.judging import judge

JOBS = ("two-speed-wipers", "car-to-negative-earth", "dip-relay-five-to-four", "two-ends-trade")


@pytest.mark.parametrize("job", JOBS)
def test_a_mistake_fails_a_test_or_is_told_as_not_shown(job: str) -> None:
    van = metered(job)
    edits = van.ground.exposer.edits(list(van.slips.values()))
    tests = sorted(van.page.tests, key=lambda test: test.unit != "ohm")
    passed = set()
    for ((name, _), _), own in zip(edits, readings(van, [edit for _, edit in edits], tests), strict=True):
        if all(judge(test, "", value).verdict == "good" for test, value in zip(tests, own, strict=True)):
            passed.add(van.slips[name].words)
    assert len(edits) > 3
    assert passed <= set(van.page.untested)
