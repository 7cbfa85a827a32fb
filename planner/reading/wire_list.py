"""A wire list (from-to list) of one loom: each row a wire, or named with the reason why it cannot be read."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from planner.model.conductors import Gauge
from planner.model.loom import Loom
from planner.model.part import Part, Role
from planner.model.wording import colour_words
from planner.problems import FilePlace, InputError, Problem
from planner.reading.colour_codes import IEC, code_in_heading, readings
from planner.reading.colour_words import read_legs
from planner.reading.csv_table import TableRow
from planner.reading.end_words import EXAMPLES, EndReader
from planner.reading.headed_values import HeadedValues
from planner.reading.people_tables import read_table
from planner.reading.typed_values import NotUnderstood, plain
from planner.reading.wire_columns import COLUMNS
from planner.reading.wire_rows import RowReader, WireRow

_NO_TRACER = frozenset({"", "-", "none", "no", "plain", "n/a", "nil"})


@dataclass(frozen=True, slots=True)
class Doubt:
    """A colour in IEC 60757 and in another code, and the text that shows that the other may be meant."""

    in_iec: str
    in_other: str
    shown_by: str


@dataclass(frozen=True, slots=True)
class WireList:
    """The rows that could be read, the feeds that they say, and what is wrong with the other rows.

    ``unread`` are the headings that mean nothing here.
    """

    rows: tuple[WireRow, ...]
    feeds: Mapping[str, dict[str, Any]]
    feed_places: Mapping[str, FilePlace]
    problems: tuple[Problem, ...]
    unread: tuple[str, ...]


def read_wire_list(
    path: Path,
    loom: Loom | None,
    parts: Mapping[str, Part],
    gauges: Callable[[], Sequence[Gauge]],
    roles: Mapping[str, Role] = MappingProxyType({}),
) -> WireList:
    """Read a wire list against the places, feeds and conditions of its loom.

    Without a loom nobody can tell where its ends are: they are kept as they are written. ``roles`` say what
    the terminals are for that a wrong mark may mean.

    Raises
    ------
    InputError
        If the table as a whole cannot be read.
    """
    table = read_table(path, COLUMNS)
    ends = EndReader(loom, parts, roles, _end_texts(table.rows)) if loom else None
    reader = RowReader(HeadedValues(table.headings, gauges), ends.read if ends else _as_written)
    problems = list(table.problems)
    written = [_with_tracer(row) for row in table.rows]
    doubts = _doubtful_codes(written, table.headings.get("colour", ""))
    rows: list[WireRow] = []
    first: dict[str, FilePlace] = {}
    for row in written:
        try:
            wire = reader.read(row)
        except InputError as error:
            problems += error.problems
            continue
        name, place = wire.data["wire"], wire.places["wire",]
        if name in first:
            related = ((first[name], "first here"),)
            hint = "another number, or one row with a column 'to 2' for what the wire goes on to"
            problems.append(Problem(place, f"wire: two rows are called {name!r}", related, hint))
        elif doubt := _doubt_of(row, doubts):
            problems.append(doubt)
        else:
            rows.append(wire)
        first.setdefault(name, place)
    feeds, feed_places = (ends.feeds, ends.feed_places) if ends else ({}, {})
    return WireList(tuple(rows), feeds, feed_places, tuple(problems), table.unread)


def _as_written(text: str, _place: FilePlace) -> dict[str, str]:
    if not text:
        raise NotUnderstood("no end is given", EXAMPLES)
    return {"at": text}


def _end_texts(rows: Sequence[TableRow]) -> list[str]:
    """All ends of a list as one text each, with the terminal that stands in a column beside it."""
    found: list[str] = []
    for cells in (row.cells for row in rows):
        for column, text in cells.items():
            if text and column.split(" ")[0] in ("from", "to") and not column.endswith("terminal"):
                mark = cells.get(f"{column} terminal", "")
                found.append(f"{text} / {mark}" if mark else text)
    return found


def _with_tracer(row: TableRow) -> TableRow:
    """A row whose tracer stands in a column of its own, as one whose colour says it."""
    colour, tracer = row.cells["colour"], row.cells["tracer"]
    if not colour or plain(tracer) in _NO_TRACER:
        return row
    legs = "; ".join(f"{leg}/{tracer}" for leg in read_legs(colour))
    return TableRow({**row.cells, "colour": legs}, row.places)


def _doubtful_codes(rows: Sequence[TableRow], heading: str) -> dict[str, Doubt]:
    """The colours that IEC 60757 and the code that the list seems to be written in read differently.

    It seems to be written in another code if one of its colours can only be read in that.
    """
    if code_in_heading(heading):
        return {}
    texts = dict.fromkeys(leg for row in rows for leg in read_legs(row.cells["colour"]))
    read = {text: readings(text) for text in texts}
    shown_by: dict[str, str] = {}
    for text, meant in read.items():
        for code in () if IEC in meant else meant:
            shown_by.setdefault(code, text)
    return {
        text: Doubt(meant[IEC][0], meant[code][0], shown_by[code])
        for text, meant in read.items()
        for code in shown_by
        if IEC in meant and code in meant and meant[code] != meant[IEC]
    }


def _doubt_of(row: TableRow, doubts: Mapping[str, Doubt]) -> Problem | None:
    text = next((leg for leg in read_legs(row.cells["colour"]) if leg in doubts), None)
    if text is None:
        return None
    doubt = doubts[text]
    message = (
        f"colour: {text!r} is {colour_words(doubt.in_iec)} in {IEC}, but {colour_words(doubt.in_other)} "
        f"in the code in which {doubt.shown_by!r} stands in this list"
    )
    hint = "the code in the heading, colour (IEC) or colour (British), or plain words"
    return Problem(row.places["colour"], message, hint=hint)
