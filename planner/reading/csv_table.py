"""CSV tables as rows whose cells know their line and column, so that a wrong one can be shown."""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, isfinite
from pathlib import Path
from typing import NoReturn

from planner.problems import FilePlace, InputError, Problem
from planner.reading.validate import suggest
from planner.reading.yaml_source import read_lines, shown_name

ANY = "any"


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table; what cannot be used raises InputError with the cell's place."""

    cells: dict[str, str]
    places: dict[str, FilePlace]

    def text(self, column: str) -> str:
        """What the cell says, which must be something."""
        return self.cells[column] or self._refuse(column, "a text")

    def number(self, column: str) -> float:
        """A number above 0."""
        return self._above_0(column, self.cells[column], "a number above 0")

    def maybe_number(self, column: str) -> float | None:
        """A number of 0 or more, or None for an empty cell."""
        text = self.cells[column]
        expected = "a number of 0 or more, or nothing"
        number = self._number(column, text, expected) if text else None
        return number if number is None or number >= 0 else self._refuse(column, expected)

    def number_or_any(self, column: str) -> float | None:
        """A number above 0, or None for ``any``."""
        text = self.cells[column]
        return None if text == ANY else self._above_0(column, text, f"a number above 0 or {ANY!r}")

    def whole_number(self, column: str) -> int:
        """A whole number above 0."""
        text = self.cells[column]
        expected = "a whole number above 0"
        return int(text) if text.isdecimal() and int(text) else self._refuse(column, expected)

    def bounds(self, column: str) -> tuple[float, float]:
        """The least and the most: of one number twice the same, of ``any`` 0 and infinity."""
        text = self.cells[column]
        expected = f"a number, two with a dash between, or {ANY!r}"
        if text == ANY:
            return 0.0, inf
        ends = [self._number(column, end, expected) for end in text.split("-")]
        if len(ends) > 2 or ends[0] > ends[-1]:
            self._refuse(column, expected)
        return ends[0], ends[-1]

    def _above_0(self, column: str, text: str, expected: str) -> float:
        number = self._number(column, text, expected)
        return number if number > 0 else self._refuse(column, expected)

    def _number(self, column: str, text: str, expected: str) -> float:
        try:
            number = float(text)
        except ValueError:
            self._refuse(column, expected)
        return number if isfinite(number) else self._refuse(column, expected)

    def _refuse(self, column: str, expected: str) -> NoReturn:
        got = repr(self.cells[column]) if self.cells[column] else "nothing"
        raise InputError([Problem(self.places[column], f"{column} must be {expected}, got {got}")])


def read_rows(path: Path, columns: Sequence[str]) -> list[TableRow]:
    """The rows of a CSV file whose first line names its columns, in any order and perhaps with more.

    Raises
    ------
    InputError
        With every row that has too few or too many cells, every column that is not there, or that the file
        cannot be read.
    """
    file = shown_name(path)
    lines = read_lines(path)
    problems: list[Problem] = []
    rows: list[TableRow] = []
    header, _ = _cells(lines[0], FilePlace(file, 1, 1)) if lines else ([], [])
    for column in columns:
        if header.count(column) != 1:
            message = f"the first line must name the column {column!r} once"
            problems.append(Problem(FilePlace(file, 1, 1), message, hint=suggest(column, header)))
    for number, line in enumerate(lines[1:], 2):
        try:
            cells, starts = _cells(line, FilePlace(file, number, 1))
        except InputError as error:
            problems += error.problems
            continue
        if len(cells) != len(header):
            message = f"must have {len(header)} cells as the first line has, got {len(cells)}"
            problems.append(Problem(FilePlace(file, number, 1), message))
            continue
        places = [FilePlace(file, number, start) for start in starts]
        rows.append(TableRow(dict(zip(header, cells, strict=True)), dict(zip(header, places, strict=True))))
    if not lines[1:]:
        problems.append(Problem(FilePlace(file), "holds no row"))
    if problems:
        raise InputError(problems)
    return rows


def _cells(line: str, place: FilePlace) -> tuple[list[str], list[int]]:
    """The cells of one line and the columns where they begin; a cell never runs over several lines."""
    try:
        cells = next(csv.reader([line], strict=True), [])
    except csv.Error as error:
        hint = "a closed pair of quotes around a cell with a comma in it"
        raise InputError([Problem(place, f"is no row of a CSV file: {error}", hint=hint)]) from None
    starts, is_quoted = [1], False
    for column, character in enumerate(line, 1):
        is_quoted ^= character == '"'
        if character == "," and not is_quoted:
            starts.append(column + 1)
    return [cell.strip() for cell in cells], starts
