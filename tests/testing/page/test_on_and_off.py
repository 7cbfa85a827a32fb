"""A load that is off is read where the reading tells something, else not at all."""

import pytest
from metered import metered, readings

from planner.testing.page.judging import judge


@pytest.mark.parametrize(
    "job", ["two-speed-motor-only", "hazard-flasher", "horn-and-push", "launch-two-speed-wiper"]
)
def test_what_reads_the_same_whatever_is_wrong_is_no_test(job: str) -> None:
    van = metered(job)
    off = [test for test in van.page.tests if test.why.endswith("must be off")]
    edits = [edit for _, edit in van.ground.exposer.edits(list(van.slips.values()))]
    fails = dict.fromkeys((test.id for test in off), 0)
    for own in readings(van, edits, off):
        for test, value in zip(off, own, strict=True):
            fails[test.id] += judge(test, "", value).verdict != "good"
    assert all(fails.values()), fails


def test_a_wiper_is_read_off_with_the_ignition_on() -> None:
    tests = [t for t in metered("two-speed-motor-only").page.tests if t.why.endswith("must be off")]
    assert [dict(test.settings) for test in tests] == [{"dash.ignition-switch/ignition": "on"}]
    assert any("traded" in wrong.words for wrong in tests[0].wrong)
