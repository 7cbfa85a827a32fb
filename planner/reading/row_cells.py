"""The cells of one row of a table that people typed, read one after another, with every fault at its cell."""

from collections.abc import Callable
from typing import TypeVar

from planner.problems import FilePlace, Problem
from planner.reading.csv_table import TableRow
from planner.reading.typed_values import NotUnderstood

Value = TypeVar("Value")


class Cells:
    """The cells of one row, read one after another; what is wrong with them is gathered in ``faults``."""

    def __init__(self, row: TableRow) -> None:
        self.row = row
        self.faults: list[Problem] = []
        first = next(iter(row.places.values()))
        self.start = FilePlace(first.file, first.line, 1)

    def take(self, column: str, read: Callable[[str], Value]) -> Value | None:
        """What a cell is read as, None if it cannot be."""
        try:
            return read(self.row.cells[column])
        except NotUnderstood as error:
            self.fault(column, error.message, error.hint)
            return None

    def fault(self, column: str, message: str, hint: str) -> None:
        """Note what is wrong with a cell."""
        self.faults.append(Problem(self.row.places[column], f"{column}: {message}", hint=hint))
