"""Readings as they are typed at the meter page, and what is said to those that cannot be."""

from math import inf

import pytest

from planner.model.meter_page import MeterTest
from planner.reading.meter_answers import read_answer
from planner.reading.typed_values import NotUnderstood

OHMS = MeterTest(
    1, "a", "dead", "c", (), "", "ohms", "a:1", "b:1", "w", 0.1, 0.0, 0.4, "ohm", "lit", (), (), ""
)
VOLTS = MeterTest(
    2, "b", "live", "c", (), "", "volts", "a:1", "earth", "w", 12.0, 11.0, 12.7, "V", "lit", (), (), ""
)


@pytest.mark.parametrize(
    ("typed", "read"),
    [("11.8", 11.8), ("11,8 V", 11.8), ("-0.2", -0.2), ("250 mV", 0.25), ("+12 volts", 12.0), ("LIT", "lit")],
)
def test_volts_as_they_are_typed(typed: str, read: object) -> None:
    assert read_answer(typed, VOLTS, 12.0) == read


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("0.3", 0.3),
        ("0,3 ohm", 0.3),
        ("4k7", 4700.0),
        ("OL", inf),
        ("open", inf),
        ("2.2k", 2200.0),
        ("dark", "dark"),
    ],
)
def test_ohms_as_they_are_typed(typed: str, read: object) -> None:
    assert read_answer(typed, OHMS, 12.0) == read


@pytest.mark.parametrize("typed", ["", "  ", "skip", "-"])
def test_nothing_typed_is_not_taken(typed: str) -> None:
    assert read_answer(typed, OHMS, 12.0) is None


@pytest.mark.parametrize(
    ("typed", "test", "said"),
    [
        ("3 ohm", VOLTS, "this test is in volts"),
        ("OL", VOLTS, "this test is in volts"),
        ("30", VOLTS, "cannot be on a vehicle of 12 V"),
        ("12 V", OHMS, "this test is in ohms"),
        ("-1", OHMS, "never negative"),
        ("beeps", OHMS, "too coarse"),
        ("1,500", OHMS, "may mean"),
        ("0.3 apples", OHMS, "is no reading"),
        ("nan", VOLTS, "is no reading"),
    ],
)
def test_what_cannot_be_is_said(typed: str, test: MeterTest, said: str) -> None:
    with pytest.raises(NotUnderstood, match=said):
        read_answer(typed, test, 12.0)
