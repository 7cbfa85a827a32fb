"""Writes a table for spreadsheet programs, CSV or XLSX by the ending of its name.

Nothing in it is ever computed by such a program: in XLSX texts stay texts, and in CSV an apostrophe stands
before what could be taken for a formula. ``planner.reading.people_tables`` reads back what is written here.
"""

import csv
from collections.abc import Sequence
from io import StringIO
from pathlib import Path

from planner.problems import UsageError
from planner.reading.text_table import COMPUTED
from planner.sheets.render.whole_file import write_whole
from planner.sheets.render.workbook import as_workbook

ENDINGS_WRITTEN = (".csv", ".xlsx")


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
    content = as_csv(headings, rows) if ending == ".csv" else as_workbook({sheet: (headings, rows)})
    write_whole(path, content, overwrite=overwrite)


def as_csv(headings: Sequence[str], rows: Sequence[Sequence[str | float]]) -> bytes:
    """A table as CSV: UTF-8 with its mark, by which spreadsheet programs know it, and commas."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    for row in (headings, *rows):
        writer.writerow([_shielded(cell) if isinstance(cell, str) else f"{cell:.15g}" for cell in row])
    return text.getvalue().encode("utf-8-sig")


def _shielded(text: str) -> str:
    return f"'{text}" if COMPUTED.match(text) else text
