"""A table as it stands in a file, before anybody knows what its columns mean."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.problems import FilePlace

MAX_ROWS = 5_000
MAX_COLUMNS = 64
MAX_CELL = 1_000


@dataclass(frozen=True, slots=True)
class RawCell:
    """What one cell says and where it stands; with a fault, why that cannot be used."""

    text: str
    place: FilePlace
    fault: str = ""
    hint: str | None = None


@dataclass(frozen=True, slots=True)
class RawTable:
    """Rows of cells; a workbook's sheet has a name, a text file has none."""

    sheet: str
    rows: Sequence[Sequence[RawCell]]


def cell_of(text: str, place: FilePlace) -> RawCell:
    """A cell without the blanks around it; one that is too long to be meant has a fault."""
    stripped = text.strip()
    if len(stripped) <= MAX_CELL:
        return RawCell(stripped, place)
    return RawCell("", place, f"holds {len(stripped)} characters; {MAX_CELL} can be read")
