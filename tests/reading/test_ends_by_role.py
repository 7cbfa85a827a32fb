"""An end may name a terminal by its role where nothing is stamped beside it, and only there."""

import pytest
from planned import catalogue

from planner.model.loom import Loom
from planner.problems import FilePlace
from planner.reading.end_words import EndReader
from planner.reading.typed_values import NotUnderstood

LOOM = Loom.model_validate(
    {
        "loom": "ends",
        "supply": {"volts": 12, "earthed": "negative"},
        "zones": {"rear": {}},
        "places": {
            "plate": {"part": "number-plate-lamp", "zone": "rear", "title": "number-plate lamp"},
            "gauge": {"part": "fuel-gauge-10-180", "zone": "rear", "title": "fuel gauge"},
        },
    }
)


def read(text: str) -> str:
    return EndReader(LOOM, catalogue().parts).address(text, FilePlace("list.csv", 2, 1))


@pytest.mark.parametrize(
    "text", ["license plate light / 58", "number-plate lamp 58", "58 on the number-plate lamp"]
)
def test_a_terminal_without_a_stamp_answers_to_its_role(text: str) -> None:
    assert read(text) == "plate:lamp"


def test_a_terminal_with_a_stamp_does_not() -> None:
    assert catalogue().parts["fuel-gauge-10-180"].terminals["I"].stamped
    with pytest.raises(NotUnderstood, match="is marked"):
        read("gas gauge / 15")
