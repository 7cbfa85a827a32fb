"""A terminal: what goes on it, said or not."""

from typing import Any

import pytest

from planner.model.part import Terminal


@pytest.mark.parametrize(
    ("given", "end"),
    [
        ({}, "blade-6.3"),
        ({"by": "mounting"}, "ring-6"),
        ({"by": "mounting", "fitting": "stud-8"}, "ring-8"),
        ({"fitting": "screw"}, "bare"),
    ],
)
def test_what_is_not_said_is_a_blade_or_the_screw_of_a_mounting(given: dict[str, Any], end: str) -> None:
    terminal = Terminal.model_validate(given)
    assert terminal.usual_end == end and terminal.takes(end)
    assert not terminal.takes("blade-4.8")
