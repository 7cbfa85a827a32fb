"""The catalogue as shipped and the reference tables, for checks against what others have published."""

import csv
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

import catalogs
from planner.model.catalogue import Catalogue
from planner.model.standards import Standards
from planner.reading.catalogue import read_catalogue

STANDARDS = catalogs.directory() / "standards"
REFERENCE = Path(__file__).parent / "reference"


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return read_catalogue([catalogs.directory()])


@pytest.fixture(scope="session")
def table() -> Callable[[str], list[dict[str, str]]]:
    """Rows of one reference table; every row names its source and basis."""

    return partial(_rows, STANDARDS)


@pytest.fixture(scope="session")
def reference() -> Callable[[str], list[dict[str, str]]]:
    """Rows of a table as it was gathered from what is published, before any of it was shipped."""
    return partial(_rows, REFERENCE)


@pytest.fixture(scope="session")
def standards(catalogue: Catalogue) -> Standards:
    return catalogue.standards


def _rows(folder: Path, name: str) -> list[dict[str, str]]:
    with (folder / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows and all(row["source"] and row["basis"] for row in rows)
    return rows
