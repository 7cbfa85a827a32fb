"""The catalogue as shipped and the reference tables, for checks against what others have published."""

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

import catalogs
from planner.model.catalogue import Catalogue
from planner.reading.catalogue import read_catalogue

STANDARDS = catalogs.directory() / "standards"
REFERENCE = Path(__file__).parent / "reference"


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return read_catalogue([catalogs.directory()])


@pytest.fixture(scope="session")
def table() -> Callable[[str], list[dict[str, str]]]:
    """Rows of one reference table; every row names its source and basis."""

    def read(name: str) -> list[dict[str, str]]:
        with (STANDARDS / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        assert rows and all(row["source"] and row["basis"] for row in rows)
        return rows

    return read
