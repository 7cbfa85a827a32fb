"""The second brush of a motor that turns generates: no reading there is called good or wrong."""

import pytest
from metered import metered

from planner.model.loom import split_address


@pytest.mark.parametrize("job", ["two-speed-wipers", "launch-two-speed-wiper", "whole-van"])
def test_while_the_motor_turns_on_one_brush_nothing_is_read_at_the_other(job: str) -> None:
    other = {"slow": {"53b", "WF"}, "fast": {"53", "W"}}
    running = [
        (speed, test)
        for test in metered(job).page.tests
        for name, speed in test.settings
        if name.endswith("/wiper") and speed in other
    ]
    assert {speed for speed, _ in running} == set(other)
    for speed, test in running:
        assert not other[speed] & {split_address(tip)[1] for tip in (test.at, test.to)}, test.id


def test_at_rest_and_on_its_own_speed_the_brush_is_read() -> None:
    tests = [test for test in metered("two-speed-wipers").page.tests if test.at.endswith("motor:53b")]
    speeds = [dict(test.settings).get("dash.wiper-switch/wiper", "off") for test in tests]
    assert speeds == ["off", "fast"]
