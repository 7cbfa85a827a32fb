"""The leads of a kit from a table: a row a kind of lead, by colour, length and ends or described in one."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from planner.model.conductors import Gauge
from planner.model.kit import KitLead
from planner.problems import InputError, Problem
from planner.reading.csv_table import TableRow
from planner.reading.fitting_words import read_kind
from planner.reading.headed_values import HeadedValues
from planner.reading.headings import Column
from planner.reading.people_tables import read_table
from planner.reading.row_cells import Cells
from planner.reading.typed_values import NotUnderstood, plain
from planner.reading.wire_columns import COLUMNS as WIRE_COLUMNS

MOST_LEADS = 500  # in one kit, each of a kind counted
MOST_ENDS = 12
_SHARED = {column.name: column.also for column in WIRE_COLUMNS}
COLUMNS = (
    Column("lead", also=("lead no", "no", "number", "id", "tag", "name", *_SHARED["wire"][:3])),
    Column("colour", also=_SHARED["colour"]),
    Column("metres", also=_SHARED["metres"]),
    Column("ends", also=("fittings", "end fittings", "terminals", "kind of ends", "number and kind of ends")),
    Column("mm2", also=_SHARED["mm2"]),
    Column("count", also=("quantity", "qty", "pieces", "how many")),
    Column("description", also=("what it is", "loose wire", "kit lead", "what")),
    Column("note", also=_SHARED["note"], lines=True),
)
_COUNTS = {
    word: number
    for number, word in enumerate(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"), 1
    )
} | {"a": 1, "an": 1, "both": 2}
_COUNTED = re.compile(rf"(?:({'|'.join(_COUNTS)})|(\d{{1,2}})(?: ?[x×])?) (?!mm\b|in\b|inch)(.+)")
_PLURAL = re.compile(
    r"\b(push-?on|push on|blade|spade|tab|ring|eyelet|stud|bullet|pin|contact|terminal|end)s\b"
)
_SIZE = re.compile(r"mm2|mm²|sq\.? ?mm|awg|\d ?/ ?0?\.\d")
_BETWEEN = re.compile(r"\s*(?:[;,+&]|\band\b)\s*")


@dataclass(frozen=True, slots=True)
class Kit:
    """The leads that could be read, and what is wrong with the other rows."""

    leads: tuple[KitLead, ...]
    problems: tuple[Problem, ...]
    unread: tuple[str, ...]


def read_kit(path: Path, gauges: Callable[[], Sequence[Gauge]]) -> Kit:
    """Read the leads of a kit.

    Raises
    ------
    InputError
        If the table as a whole cannot be read.
    """
    table = read_table(path, COLUMNS)
    if "description" not in table.headings:
        missing = [name for name in ("colour", "metres", "ends") if name not in table.headings]
        if missing:
            place = next(iter(table.rows[0].places.values())) if table.rows else table.problems[0].place
            message = f"no heading says {' or '.join(map(repr, missing))}, nor 'description'"
            hint = "colour, length, ends; or description: black, 45 cm, three push-on ends"
            raise InputError([Problem(place, message, hint=hint)])
    reader = _LeadReader(HeadedValues(table.headings, gauges))
    leads: list[KitLead] = []
    problems = list(table.problems)
    for row in table.rows:
        try:
            leads.append(reader.read(row))
        except InputError as error:
            problems += error.problems
    if sum(lead.count for lead in leads) > MOST_LEADS:
        place = next(iter(table.rows[-1].places.values()))
        problems.append(Problem(place, f"a kit of more than {MOST_LEADS} leads cannot be matched"))
    return Kit(tuple(leads), tuple(problems), table.unread)


def read_ends(text: str) -> tuple[str, ...]:
    """The ends of a lead: ``three push-on ends``, ``6.3 mm push-on and M8 ring``, ``blade-6.3; ring-8``.

    Raises
    ------
    NotUnderstood
        If they are no ends, or their number is not sure.
    """
    said = plain(text)
    if not said:
        raise NotUnderstood("no ends are given", "three push-on ends, or 6.3 mm push-on and M8 ring")
    ends: list[str] = []
    for item in _BETWEEN.split(said):
        counted = _COUNTED.fullmatch(item)
        number = (_COUNTS[counted[1]] if counted[1] else int(counted[2])) if counted else 1
        kind = counted[3] if counted else item
        many = _PLURAL.sub(r"\1", kind)
        if counted and counted[2] and number > 1 and many == kind:
            hint = f"{number} {kind}s, or the size with its unit, such as M{number} or {number} mm"
            raise NotUnderstood(f"{item!r} may mean {number} of them or a size", hint)
        if not counted and many != kind:
            raise NotUnderstood(f"{item!r} does not say how many", f"two {kind}")
        ends += [read_kind(re.sub(r" end$", "", many))] * number
    if not 2 <= len(ends) <= MOST_ENDS:
        raise NotUnderstood(
            f"{text!r}: a lead has from 2 to {MOST_ENDS} ends, got {len(ends)}", "two push-on ends"
        )
    return tuple(ends)


@dataclass(frozen=True)
class _LeadReader:
    """Reads the rows of one kit."""

    values: HeadedValues

    def read(self, row: TableRow) -> KitLead:
        """Read one row; InputError with every cell that cannot be read."""
        cells = Cells(_taken_apart(row) if row.cells["description"] else row)
        colour, metres = cells.take("colour", self.values.colour), cells.take("metres", self.values.metres)
        ends, mm2 = cells.take("ends", read_ends), cells.take("mm2", self._size)
        count = cells.take("count", _count)
        if colour is None or metres is None or ends is None or count is None or cells.faults:
            raise InputError(cells.faults)
        name = row.cells["lead"] or f"row {cells.start.line}"
        return KitLead(name, (colour.code, *colour.others), metres, ends, mm2, count, cells.start.line)

    def _size(self, text: str) -> float | None:
        return self.values.mm2(text) if text else None


def _taken_apart(row: TableRow) -> TableRow:
    """A row with its description in the columns it would have: colour, perhaps size, length, ends."""
    parts = [part.strip() for part in row.cells["description"].split(",")]
    at = next((n for n, part in enumerate(parts) if n and _SIZE.search(part.casefold())), 0)
    size = parts.pop(at) if at and len(parts) > 3 else row.cells["mm2"]
    if len(parts) < 3:
        hint = "colour, length, ends: black, 45 cm, three push-on ends"
        message = f"description: {row.cells['description']!r} does not say colour, length and ends"
        raise InputError([Problem(row.places["description"], message, hint=hint)])
    said = {"colour": parts[0], "metres": parts[1], "ends": ", ".join(parts[2:]), "mm2": size}
    return TableRow(row.cells | said, row.places | dict.fromkeys(said, row.places["description"]))


def _count(text: str) -> int:
    if text and not (text.isdecimal() and 1 <= int(text) <= MOST_LEADS):
        raise NotUnderstood(f"{text!r} is no number of leads", f"a whole number from 1 to {MOST_LEADS}")
    return int(text or 1)
