"""Lengths as people type them."""

import pytest

from planner.reading.lengths import read_length
from planner.reading.typed_values import NotUnderstood


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("0.8 m", 0.8),
        ("0,8 m", 0.8),
        ("0,500 m", 0.5),
        ("80cm", 0.8),
        ("about 80 cm.", 0.8),
        ("800 MM", 0.8),
        ("18 in", 0.4572),
        ('18"', 0.4572),
        ("31 1/2 in", 0.8001),
        ("½ in", 0.0127),
        ("2 ft 6 in", 0.762),
        ("2′ 6″", 0.762),
        ("1 m 20 cm", 1.2),
        ("3 ft 6", 1.0668),  # what follows feet is inches
        ("2'6", 0.762),
        ("1 yard", 0.9144),
    ],
)
def test_a_length_with_its_unit_is_read_in_metres(typed: str, metres: float) -> None:
    assert read_length(typed) == pytest.approx(metres, abs=1e-9)


def test_a_number_alone_has_the_unit_of_its_heading() -> None:
    assert (read_length("450", "mm"), read_length("1 1/2", "ft")) == (0.45, 0.4572)
    assert read_length("45 cm", "mm") == 0.45


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("0.8", "does not say its unit"),
        ("1,500 m", "may mean 1.500 or 1500"),
        ("3 4", "is no length"),
        ("1 m 20", "is no length"),
        ("6 in 2 ft", "is no length"),
        ("-1 m", "is no length"),
        ("1e3 m", "is no length"),
        ("80 cmm", "is no length"),
        ("", "no length is given"),
        ("0 m", "is 0 m"),
        ("450 m", "is 450 m"),
        ("long", "is no length"),
    ],
)
def test_a_length_that_is_not_sure_is_asked(typed: str, said: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        read_length(typed)
    assert said in caught.value.message and caught.value.hint


def test_two_numbers_do_not_share_the_unit_of_the_heading() -> None:
    with pytest.raises(NotUnderstood, match="is no length"):
        read_length("3 4", "mm")
