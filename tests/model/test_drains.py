"""What may be taken at rest, what counts as too much, and how it is said."""

import pytest

from planner.model.drains import DRAIN_AMPS, drain_words, is_drain


@pytest.mark.parametrize(
    ("after", "before", "expected"),
    [
        (DRAIN_AMPS, 0.0, False),
        (DRAIN_AMPS + 0.001, 0.0, True),
        (DRAIN_AMPS + 0.001, DRAIN_AMPS - 0.001, True),
        (0.30, 0.27, False),  # it was flat as soon before
        (0.30, 0.25, True),
        (0.04, 0.30, False),
    ],
)
def test_what_passes_the_limit_or_makes_it_clearly_worse_is_a_drain(
    after: float, before: float, expected: bool
) -> None:
    assert is_drain(after, before) is expected


@pytest.mark.parametrize(
    ("amps", "amp_hours", "words"),
    [
        (0.3, 40.0, "300 mA: half of 40 Ah is gone in 2.8 days"),
        (0.005, 40.0, "5 mA: half of 40 Ah is gone in 167 days"),
        (0.0002, 40.0, "0.2 mA: half of 40 Ah is gone in 4167 days"),
        (0.02, None, "20 mA"),
        (0.0, 40.0, "0 mA"),
    ],
)
def test_a_drain_is_said_in_milliamperes_and_days(amps: float, amp_hours: float | None, words: str) -> None:
    assert drain_words(amps, amp_hours) == words
