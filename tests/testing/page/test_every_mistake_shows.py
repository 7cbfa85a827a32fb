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


@pytest.mark.parametrize("job", ["dynamo-to-alternator", "door-warning-lamp", "led-indicators"])
def test_a_diode_turned_round_fails_a_test_that_does_not_hang_on_its_ring(job: str) -> None:
    """Who misread the ring misreads it with the meter too: a tip on a lead of the diode shows nothing."""
    van = metered(job)
    loom, known = van.ground.wired.loom, van.ground.catalogue.parts
    diodes = [place for place, fitted in loom.places.items() if fitted.part.startswith("diode-")]
    assert diodes and known["diode-6"].family == "in-line"
    for place in diodes:
        tests = [
            test for test in van.page.tests if place not in (test.at.split(":")[0], test.to.split(":")[0])
        ]
        turned = [m for m in van.slips.values() if m.kind == "wrong way round" and place in m.mend[0]]
        ((_, edit),) = van.ground.exposer.edits(turned)
        tests = sorted(tests, key=lambda test: test.unit != "ohm")
        (own,) = readings(van, [edit], tests)
        taken = [judge(test, "", value) for test, value in zip(tests, own, strict=True)]
        failed = [one for one in taken if one.verdict != "good" and one.test.unit == "V"]
        assert any(turned[0].words in wrong.words for one in failed for wrong in one.says), place
