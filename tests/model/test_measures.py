"""Sizes and lengths in both systems."""

import pytest

from planner.model.conductors import Gauge
from planner.model.measures import length_words, size_words
from planner.pipeline import open_catalogue


@pytest.mark.parametrize(
    ("metres", "words"),
    [
        (0.3048, "0.3048 m (1 ft)"),  # by definition
        (0.0254, "0.0254 m (1 in)"),
        (1.5, "1.5 m (5 ft)"),  # 59.06 in: rounded up, never cut too short
        (0.56, "0.56 m (1 ft 11 in)"),  # 22.05 in
        (0.46, "0.46 m (1 ft 7 in)"),  # 18.11 in
        (0.0, "0 m (0 in)"),
    ],
)
def test_a_length_is_said_in_feet_and_inches_and_never_shorter(metres: float, words: str) -> None:
    assert length_words(metres) == words


@pytest.mark.parametrize(
    ("mm2", "awg"), [(0.5, "20"), (1.0, "16"), (1.5, "14"), (2.5, "12"), (4, "10"), (10, "6")]
)
def test_a_size_is_said_as_the_next_even_gauge_that_is_not_thinner(mm2: float, awg: str) -> None:
    """ASTM B258: 20 is 0.518 mm2, 16 1.31, 14 2.08, 12 3.31, 10 5.26, 6 13.3."""
    assert size_words(mm2, open_catalogue().standards.gauges) == f"{mm2:g} mm2 (AWG {awg})"


def test_odd_gauges_and_what_is_thicker_than_all_are_not_said() -> None:
    assert size_words(1.0, [Gauge("17", 1.04, "s", "b"), Gauge("16", 1.31, "s", "b")]) == "1 mm2 (AWG 16)"
    assert size_words(200, open_catalogue().standards.gauges) == "200 mm2"
