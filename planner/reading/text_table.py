"""Tables in text files as people's programs save them: any usual encoding, delimiter and line end.

A cell that begins with ``=``, ``+``, ``-``, ``@``, a tab or a carriage return would be computed by a
spreadsheet program. So in what we write an apostrophe stands before it, which is taken off again here.
"""

import codecs
import re
from collections.abc import Iterator

from planner.problems import FilePlace, InputError, Problem
from planner.reading.raw_table import MAX_COLUMNS, MAX_ROWS, RawCell, RawTable, cell_of
from planner.reading.yaml_source import must_be_small, without_refused

DELIMITERS = (",", ";", "\t")
COMPUTED = re.compile("'*[=+\\-@\t\r]")
_SHIELDED = re.compile("'+[=+\\-@\t\r]")
_BREAK = re.compile("\r\n|\r|\n")
_CLOSED = re.compile(r'"((?:[^"]|"")*)"[ \t]*')
_PLAIN = {delimiter: re.compile(f"[^{delimiter}\r\n]*") for delimiter in DELIMITERS}
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, ""),  # before UTF-16, whose mark it begins with
    (codecs.BOM_UTF32_BE, ""),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)


def decode_table(content: bytes, file: str) -> str:
    """The text of a table: UTF-8 or UTF-16, else Windows-1252.

    Raises
    ------
    InputError
        If it is none of these, or holds characters that no text has.
    """
    must_be_small(content, file)
    encoding, text = _encoding(content), None
    for mark, _ in _BOMS:
        content = content.removeprefix(mark) if content.startswith(mark) else content
    for tried in (encoding, "cp1252") if encoding == "utf-8" else (encoding,):
        try:
            text = content.decode(tried)
            break
        except (UnicodeDecodeError, LookupError):
            continue
    if text is None:
        message = "is no text in UTF-8, UTF-16 or Windows-1252"
        raise InputError([Problem(FilePlace(file), message, hint="saving it as CSV in UTF-8")])
    return without_refused(text, file)


def split_table(text: str, file: str, delimiter: str) -> RawTable:
    """The rows of a text with one delimiter; quoted cells may run over several lines.

    Raises
    ------
    InputError
        If there are more rows or columns than can be read.
    """
    rows: list[list[RawCell]] = []
    for row in _rows(text, file, delimiter):
        rows.append(row)
        if len(rows) > MAX_ROWS:
            raise InputError([Problem(row[0].place, f"more than {MAX_ROWS} rows cannot be read")])
        if len(row) > MAX_COLUMNS:
            message = f"more than {MAX_COLUMNS} columns cannot be read"
            raise InputError([Problem(row[MAX_COLUMNS].place, message)])
    return RawTable("", rows)


def _encoding(content: bytes) -> str:
    for mark, encoding in _BOMS:
        if content.startswith(mark):
            return encoding or "none"
    start = content[:200]
    if b"\0" not in start:
        return "utf-8"
    return "utf-16-le" if start[1::2].count(0) > start[::2].count(0) else "utf-16-be"


def _rows(text: str, file: str, delimiter: str) -> Iterator[list[RawCell]]:
    at, line, line_start = 0, 1, 0
    row: list[RawCell] = []
    while at < len(text):
        place = FilePlace(file, line, at - line_start + 1)
        closed = _CLOSED.match(text, at)
        if closed and text[closed.end() : closed.end() + 1] not in (delimiter, "\r", "\n", ""):
            closed = None
        is_torn = closed is None and text[at] == '"'
        found = closed or _PLAIN[delimiter].match(text, at)
        assert found is not None  # the plain pattern matches nothing as well
        for inner in _BREAK.finditer(found.group()):
            line, line_start = line + 1, at + inner.end()
        row.append(_cell(found, closed, place, is_torn=is_torn))
        at = found.end()
        ending = _BREAK.match(text, at)
        if at < len(text) and ending is None:
            at += 1
            if at == len(text):  # a delimiter as the last character: an empty cell follows
                row.append(RawCell("", FilePlace(file, line, at - line_start + 1)))
            continue
        yield row
        row = []
        if ending:
            at = ending.end()
            line, line_start = line + 1, at
    if row:
        yield row


def _cell(found: re.Match[str], closed: re.Match[str] | None, place: FilePlace, *, is_torn: bool) -> RawCell:
    if is_torn:
        return RawCell(
            "", place, "its quotes do not close", "quotes around the whole cell, each inner one twice"
        )
    cell = cell_of(closed.group(1).replace('""', '"') if closed else found.group(), place)
    return RawCell(cell.text[1:], place, cell.fault) if _SHIELDED.match(cell.text) else cell
