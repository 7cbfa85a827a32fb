"""Tables that people keep in spreadsheets, read with lenient headings and every fault at its cell."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from planner.problems import FilePlace, InputError, Problem
from planner.reading.csv_table import TableRow
from planner.reading.headings import Column, Headings, are_headings, match_headings
from planner.reading.raw_table import RawCell, RawTable
from planner.reading.text_table import DELIMITERS, decode_table, split_table
from planner.reading.workbook import read_workbook
from planner.reading.yaml_source import read_content, shown_name

TEXTS = (".csv", ".tsv", ".txt")
WORKBOOKS = (".xlsx", ".xlsm")
ENDINGS = TEXTS + WORKBOOKS
# People put a title, a name and a date above their headings.
LAST_HEADING_ROW = 20
_ZIP = b"PK\x03\x04"


@dataclass(frozen=True, slots=True)
class PeopleTable:
    """The rows that could be read, and what is wrong with the others.

    ``headings`` are the headings as written, by column; ``unread`` those that mean no column, and which
    columns say something though they have no heading. Each row has a cell for each column, an empty one where
    the table does not have it.
    """

    file: str
    headings: Mapping[str, str]
    unread: tuple[str, ...]
    rows: tuple[TableRow, ...]
    problems: tuple[Problem, ...]


def read_table(path: Path, columns: Sequence[Column]) -> PeopleTable:
    """Read a table whose file's name ends in .csv, .tsv, .txt, .xlsx or .xlsm.

    Rows are passed over that are empty, hold only headings (again, or a second line of them), or a remark
    after a ``#``.

    Raises
    ------
    InputError
        If the file as a whole cannot be read, or not be told what its columns mean.
    """
    file = shown_name(path)
    table, headings, row = _choose(_tables(path, file), columns, file)
    below = [cells for cells in table.rows if cells and cells[0].place.line > row[0].place.line]
    names = list(headings.at) + [column.name for column in columns if column.name not in headings.at]
    has_lines = {column.name for column in columns if column.lines}
    rows: list[TableRow] = []
    problems: list[Problem] = []
    for cells in below:
        if _is_passed_over(cells, row, headings, columns):
            continue
        faults = list(_faults(cells, headings, len(row), has_lines))
        problems += faults
        if not faults:
            rows.append(_row(cells, headings, names))
    if not rows and not problems:
        raise InputError([Problem(row[0].place, "no row stands below the headings")])
    written = {name: row[index].text for name, index in headings.at.items()}
    unread = (*headings.unread.values(), *_without_heading(row, below, headings))
    return PeopleTable(file, written, unread, tuple(rows), tuple(problems))


def _without_heading(
    row: Sequence[RawCell], below: Sequence[Sequence[RawCell]], headings: Headings
) -> Iterator[str]:
    """Yield the columns that nobody reads, for no heading says what they are, and that say something."""
    known = {*headings.at.values(), *headings.unread}
    for index in (n for n in range(len(row)) if n not in known):
        if any(index < len(cells) and cells[index].text for cells in below):
            yield f"column {index + 1}, which has no heading"


def _tables(path: Path, file: str) -> list[RawTable]:
    """The sheets of a workbook, or a text as it looks with each delimiter."""
    ending = path.suffix.lower()
    if ending not in ENDINGS:
        hint = f"a file whose name ends in {', '.join(ENDINGS[:-1])} or {ENDINGS[-1]}"
        raise InputError([Problem(FilePlace(file), "is no table by its name", hint=hint)])
    content = read_content(path)
    if not content:
        raise InputError([Problem(FilePlace(file), "the file is empty")])
    if ending in WORKBOOKS:
        return read_workbook(content, file)
    if content.startswith(_ZIP):
        message = f"is a workbook, though its name ends in {ending}"
        raise InputError([Problem(FilePlace(file), message, hint="a name that ends in .xlsx")])
    text = decode_table(content, file)
    return [split_table(text, file, delimiter) for delimiter in DELIMITERS if delimiter in text] or [
        split_table(text, file, DELIMITERS[0])
    ]


def _choose(
    tables: Sequence[RawTable], columns: Sequence[Column], file: str
) -> tuple[RawTable, Headings, Sequence[RawCell]]:
    """The table with the headings: the delimiter or sheet in which most of them are found."""
    found: list[tuple[RawTable, Headings, Sequence[RawCell]]] = []
    for table in tables:
        filled = [row for row in table.rows if any(cell.text or cell.fault for cell in row)][
            :LAST_HEADING_ROW
        ]
        matched = [(match_headings(row, columns), row) for row in filled]
        if matched:
            best = max(matched, key=lambda pair: len(pair[0].at))
            found.append((table, *best))
    if not found:
        raise InputError([Problem(FilePlace(file), "holds no row")])
    most = max(found, key=lambda item: len(item[1].at))
    fitting = [item for item in found if item[0].sheet and not item[1].problems]
    if len(fitting) > 1:
        names = " or ".join(repr(item[0].sheet) for item in fitting)
        message = f"{len(fitting)} sheets have the headings: {names}"
        raise InputError([Problem(FilePlace(file), message, hint="a workbook with the one that is meant")])
    chosen = fitting[0] if fitting else most
    if chosen[1].problems:
        raise InputError(chosen[1].problems)
    return chosen


def _is_passed_over(
    cells: Sequence[RawCell], row: Sequence[RawCell], headings: Headings, columns: Sequence[Column]
) -> bool:
    said = [cell.text for cell in cells if cell.text or cell.fault]
    is_remark = len(said) == 1 and cells[0].text.startswith("#")
    read = [(cells[n].text, row[n].text) for n in headings.at.values() if n < len(cells)]
    return (
        not said
        or is_remark
        or (len(said) > 1 and are_headings(said, columns))
        or (bool(read) and all(cell.casefold() == text.casefold() for cell, text in read))
    )


def _faults(
    cells: Sequence[RawCell], headings: Headings, width: int, has_lines: set[str]
) -> Iterator[Problem]:
    for name, index in headings.at.items():
        if index >= len(cells):
            continue
        cell = cells[index]
        if cell.fault:
            yield Problem(cell.place, f"{name}: {cell.fault}", hint=cell.hint)
        elif name not in has_lines and ("\n" in cell.text or "\r" in cell.text):
            hint = "one line; if it runs on by mistake, closed quotes"
            yield Problem(cell.place, f"{name}: the cell holds more than one line", hint=hint)
    beyond = next((cell for cell in cells[width:] if cell.text or cell.fault), None)
    if beyond:
        message = f"the row has more cells than the {width} headings"
        yield Problem(beyond.place, message, hint="quotes around a cell that holds the delimiter")


def _row(cells: Sequence[RawCell], headings: Headings, names: Sequence[str]) -> TableRow:
    start = FilePlace(cells[0].place.file, cells[0].place.line, 1)
    there = {name: cells[index] for name, index in headings.at.items() if index < len(cells)}
    return TableRow(
        {name: there[name].text if name in there else "" for name in names},
        {name: there[name].place if name in there else start for name in names},
    )
