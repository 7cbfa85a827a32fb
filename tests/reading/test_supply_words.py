"""The supply as people type it, and what is asked back."""

import pytest

from planner.reading.supply_words import read_pole, read_supply_volts
from planner.reading.typed_values import NotUnderstood


@pytest.mark.parametrize(
    ("text", "volts"),
    [("12", 12), ("12 V", 12), ("6 volts", 6), ("6,0 V", 6), ("24V DC", 24), ("six volts", 6)],
)
def test_volts_are_read(text: str, volts: float) -> None:
    assert read_supply_volts(text) == volts


@pytest.mark.parametrize("text", ["13", "230 V", "a lot", "twelvish", "12,000", "negative"])
def test_volts_that_no_vehicle_has_are_asked_back(text: str) -> None:
    with pytest.raises(NotUnderstood) as error:
        read_supply_volts(text)
    assert "filler cap" in error.value.hint


@pytest.mark.parametrize(
    ("text", "pole"),
    [("negative", "negative"), ("minus", "negative"), ("-", "negative"), ("Negative earth", "negative"),
     ("positive ground", "positive"), ("the plus post", "positive"), ("+", "positive")],
)  # fmt: skip
def test_the_pole_is_read_in_british_and_american(text: str, pole: str) -> None:
    assert read_pole(text) == pole


@pytest.mark.parametrize("text", ["earth", "both", "12 V"])
def test_what_is_no_pole_is_asked_back(text: str) -> None:
    with pytest.raises(NotUnderstood, match="is no pole"):
        read_pole(text)
