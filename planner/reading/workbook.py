"""Workbooks (XLSX) as the values that their cells hold; macros, formulas and pictures are never looked at.

What a zip file claims of itself is not believed: its sheets are unpacked under a bound and measured, and only
what was measured is handed on to the library that reads it.
"""

from datetime import date, time, timedelta
from io import BytesIO
from typing import Any

from planner.problems import FilePlace, InputError, Problem
from planner.reading.raw_table import RawCell, RawTable, cell_of
from planner.reading.workbook_archive import open_archive
from planner.reading.workbook_sheet import MeasuredSheet
from planner.reading.yaml_source import must_be_small, refused_character

_OLD_FORMAT = bytes.fromhex("D0CF11E0A1B11AE1")
SAVE_ANEW = "opening it in a spreadsheet program and saving it as XLSX or CSV"


def read_workbook(content: bytes, file: str) -> list[RawTable]:
    """The sheets that are not hidden, in order; each place is the row and column number in the sheet.

    A value that is merged down over several rows of one column counts in each of them.

    Raises
    ------
    InputError
        If it is no workbook, is protected, or holds more than can be read.
    """
    must_be_small(content, file)
    if content.startswith(_OLD_FORMAT):
        raise _refused(file, "is a workbook of an old kind or one with a password")
    archive = open_archive(content, file)
    # Only who reads a workbook pays for the library.
    from python_calamine import CalamineError, CalamineWorkbook  # noqa: PLC0415

    tables: list[RawTable] = []
    try:
        book = CalamineWorkbook.from_filelike(BytesIO(archive.content))
        for name, sheet in archive.sheets.items():
            values = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
            tables.append(RawTable(name, _rows(values, sheet, file)))
    except (CalamineError, OSError, ValueError) as error:
        raise _refused(file, f"cannot be read as a workbook: {error}") from None
    return tables


def _refused(file: str, message: str) -> InputError:
    return InputError([Problem(FilePlace(file), message, hint=SAVE_ANEW)])


def _rows(values: list[list[Any]], sheet: MeasuredSheet, file: str) -> list[list[RawCell]]:
    rows = [
        [_cell(value, sheet, file, (row, column)) for column, value in enumerate(line, 1)]
        for row, line in enumerate(values, 1)
    ]
    room = sum(map(len, rows))
    for (top, left), (bottom, right) in sheet.merged:
        inside = rows[top - 1 : bottom]
        room -= sum(max(0, min(right, len(row)) - left + 1) for row in inside)
        if room < 0:
            message = "has merged cells that lie over one another"
            raise InputError([Problem(FilePlace(file, top, left), message, hint=SAVE_ANEW)])
        for row in inside:
            for column in range(left - 1, min(right, len(row))):
                place = FilePlace(file, row[column].place.line, column + 1)
                if left == right:
                    row[column] = RawCell(rows[top - 1][left - 1].text, place, rows[top - 1][left - 1].fault)
                else:
                    message = f"is merged over {right - left + 1} columns"
                    text = rows[top - 1][left - 1].text if column == left - 1 else ""
                    row[column] = RawCell(text, place, message, "splitting the cell")
    return rows


def _cell(value: Any, sheet: MeasuredSheet, file: str, spot: tuple[int, int]) -> RawCell:
    place = FilePlace(file, *spot)
    if spot in sheet.without_value:
        return RawCell("", place, sheet.without_value[spot], "typing the value itself")
    if isinstance(value, date | time | timedelta):
        message = "holds a date or a time, which the spreadsheet may have made of what was typed"
        return RawCell("", place, message, "making the cell a text and typing it again")
    if isinstance(value, bool):
        return RawCell("TRUE" if value else "FALSE", place)
    if isinstance(value, int | float):
        # Whole numbers come as floats, and sums with the dust of binary fractions.
        return RawCell(f"{value:.15g}", place)
    refused = refused_character(value)
    return RawCell("", place, refused) if refused else cell_of(value, place)
