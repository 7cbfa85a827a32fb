"""Writes tables as a workbook; nothing in it is ever computed by the program that opens it."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from io import BytesIO
from typing import Any

Row = Sequence[str | float]
WIDEST_COLUMN = 48
LONGEST_TEXT = 32_000  # letters in a cell; spreadsheet programs end at 32,767
# Without it the same table would be other bytes each time.
_CREATED = datetime(2000, 1, 1)


def as_workbook(tables: Mapping[str, tuple[Sequence[str], Sequence[Row]]]) -> bytes:
    """Tables (headings, rows) by the name of their page, of up to 31 letters; headings stay in sight."""
    # Only who writes a workbook pays for the library.
    from xlsxwriter import Workbook  # noqa: PLC0415

    content = BytesIO()
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    book = Workbook(content, options)
    book.set_properties({"created": _CREATED})
    # A column of texts keeps what is typed there: 1/54 does not become a date.
    as_typed = book.add_format({"num_format": "@"})
    bold = book.add_format({"bold": True})
    for name, (headings, rows) in tables.items():
        _fill(book.add_worksheet(name), headings, rows, as_typed, bold)
    book.close()
    return content.getvalue()


def _fill(page: Any, headings: Sequence[str], rows: Sequence[Row], as_typed: Any, bold: Any) -> None:
    page.freeze_panes(1, 0)
    for column, heading in enumerate(headings):
        cells = [row[column] for row in rows if column < len(row)]
        longest = max((len(str(cell)) for cell in (heading, *cells)), default=0)
        are_numbers = bool(cells) and all(isinstance(cell, float | int) for cell in cells)
        page.set_column(column, column, min(longest + 2, WIDEST_COLUMN), None if are_numbers else as_typed)
        page.write_string(0, column, heading, bold)
    for number, row in enumerate(rows, 1):
        for column, cell in enumerate(row):
            if isinstance(cell, str):
                page.write_string(number, column, cell[:LONGEST_TEXT], as_typed)
            else:
                page.write_number(number, column, cell)
