"""What a person typed and nobody can read for sure: said with what would be accepted, never guessed."""

from collections.abc import Callable
from typing import TypeVar
from unicodedata import normalize

from planner.problems import InputError, Problem
from planner.reading.csv_table import TableRow

Value = TypeVar("Value")


class NotUnderstood(Exception):
    """A text that means nothing or several things; ``hint`` says what would be accepted."""

    def __init__(self, message: str, hint: str) -> None:
        self.message = message
        self.hint = hint
        super().__init__(message)


def plain(text: str) -> str:
    """A typed text in small letters and single blanks, with signs such as ² as plain ones."""
    return " ".join(normalize("NFKC", text).casefold().split())


def read_cell(row: TableRow, column: str, read: Callable[[str], Value]) -> Value:
    """Read one cell of a table; what is not understood is raised as InputError with the cell's place."""
    try:
        return read(row.cells[column])
    except NotUnderstood as error:
        raise InputError(
            [Problem(row.places[column], f"{column}: {error.message}", hint=error.hint)]
        ) from None
