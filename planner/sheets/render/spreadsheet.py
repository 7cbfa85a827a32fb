"""Writes a table for spreadsheet programs, CSV or XLSX by the ending of its name.

Nothing in it is ever computed by such a program: in XLSX texts stay texts, and in CSV an apostrophe stands
before what could be taken for a formula. ``planner.reading.people_tables`` reads back what is written here.
"""

import csv
from collections.abc import Sequence
from datetime import datetime
from io import BytesIO, StringIO
from pathlib import Path

from planner.problems import UsageError
from planner.reading.text_table import COMPUTED
from planner.sheets.render.whole_file import write_whole

ENDINGS_WRITTEN = (".csv", ".xlsx")
WIDEST_COLUMN = 48
# Without it the same table would be other bytes each time.
_CREATED = datetime(2000, 1, 1)


def write_table(
    path: Path,
    headings: Sequence[str],
    rows: Sequence[Sequence[str | float]],
    *,
    sheet: str = "Sheet1",
    overwrite: bool = False,
) -> None:
    """Write a table; numbers are written as numbers, everything else as text.

    Raises
    ------
    UsageError
        If the name ends in neither .csv nor .xlsx, or as ``write_whole`` does.
    """
    ending = path.suffix.lower()
    if ending not in ENDINGS_WRITTEN:
        raise UsageError(f"{path} is not written: its name must end in {' or '.join(ENDINGS_WRITTEN)}")
    content = as_csv(headings, rows) if ending == ".csv" else as_xlsx(headings, rows, sheet)
    write_whole(path, content, overwrite=overwrite)


def as_csv(headings: Sequence[str], rows: Sequence[Sequence[str | float]]) -> bytes:
    """A table as CSV: UTF-8 with its mark, by which spreadsheet programs know it, and commas."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    for row in (headings, *rows):
        writer.writerow([_shielded(cell) if isinstance(cell, str) else f"{cell:.15g}" for cell in row])
    return text.getvalue().encode("utf-8-sig")


def as_xlsx(headings: Sequence[str], rows: Sequence[Sequence[str | float]], sheet: str = "Sheet1") -> bytes:
    """A table as a workbook of one sheet, its headings kept in sight."""
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
    page = book.add_worksheet(sheet)
    page.freeze_panes(1, 0)
    # A column of texts keeps what is typed there: 1/54 does not become a date.
    as_typed = book.add_format({"num_format": "@"})
    bold = book.add_format({"bold": True})
    for column, heading in enumerate(headings):
        cells = [row[column] for row in rows if column < len(row)]
        longest = max((len(str(cell)) for cell in (heading, *cells)), default=0)
        are_numbers = bool(cells) and all(isinstance(cell, float | int) for cell in cells)
        page.set_column(column, column, min(longest + 2, WIDEST_COLUMN), None if are_numbers else as_typed)
        page.write_string(0, column, heading, bold)
    for number, row in enumerate(rows, 1):
        for column, cell in enumerate(row):
            if isinstance(cell, str):
                page.write_string(number, column, cell, as_typed)
            else:
                page.write_number(number, column, cell)
    book.close()
    return content.getvalue()


def _shielded(text: str) -> str:
    return f"'{text}" if COMPUTED.match(text) else text
