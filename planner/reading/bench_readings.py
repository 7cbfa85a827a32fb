"""A table of meter readings, drawn in one of two ways, as the readings of one part.

Either a row per position and a column per pair of terminals (``position, A-B, A-C, B-C``), or a row per
reading (``position, from, to, reading``). The red lead is at the first terminal. Terminals and positions that
are named count even where nothing was read.
"""

import re
from collections.abc import Mapping
from pathlib import Path

from planner.model.readings import BenchReadings, Reading
from planner.problems import FilePlace, InputError, Problem
from planner.reading.csv_table import TableRow
from planner.reading.headings import Column
from planner.reading.meter_words import read_between
from planner.reading.people_tables import PeopleTable, read_table
from planner.reading.row_cells import Cells

PAIR = re.compile(
    r"(?:(\S{1,40})\s+(?:to|and|->|→)\s+(\S{1,40})|([^\s–—-]{1,40})\s*[–—-]\s*([^\s–—-]{1,40}))"
)
POSITION, FROM, TO, READING = "position", "from", "to", "reading"
COLUMNS = (
    Column(POSITION, ("switch position", "setting", "detent", "state", "switch", "knob", "lever")),
    Column(FROM, ("red", "red lead", "terminal", "terminal 1", "first terminal", "one terminal")),
    Column(TO, ("black", "black lead", "terminal 2", "second terminal", "other terminal")),
    Column(READING, ("ohms", "meter", "meter says", "result", "value", "says", "resistance", "continuity")),
    Column("a pair of terminals", like=PAIR),
)
AT_REST = "at rest"  # the one position of a table without positions
MOST_NAMES = 30  # more terminals or positions than any part has that somebody would measure through
LONGEST_NAME = 40
# A position in which a coil was fed says so; "not fed", "unpowered" and "de-energised" say the contrary.
_POWERED = re.compile(r"(?<!de-)(?<!de )\b(energi[sz]ed|powered|pulled|fed|coil on|\d+(\.\d+)? ?v(olts?)?)\b")
_NOT_POWERED = re.compile(r"\b(not|no|without|never|off|0 ?v(olts?)?)\b")


def read_readings(path: Path) -> BenchReadings:
    """Read a table of readings from a CSV or XLSX file.

    Raises
    ------
    InputError
        With every cell that cannot be read, or that the table is neither of the two.
    """
    table = read_table(path, COLUMNS)
    pairs = {
        name: PAIR.fullmatch(name) for name in table.headings if name not in (POSITION, FROM, TO, READING)
    }
    place = next(iter(table.rows[0].places.values())) if table.rows else FilePlace(table.file)
    heading = FilePlace(table.file, max(place.line - 1, 1) if place.line else 0, 1 if place.line else 0)
    gathered = _Gathered(table)
    if pairs and not {FROM, TO, READING} & set(table.headings):
        gathered.grid({name: [g for g in found.groups() if g] for name, found in pairs.items() if found})
    elif not pairs and {FROM, TO, READING} <= set(table.headings):
        gathered.listed()
    else:
        message = "is no table of readings"
        hint = (
            f"the headings {POSITION}, A-B, A-C ... with a column for each pair of terminals, or {POSITION}, "
        )
        raise InputError([Problem(heading, message, hint=f"{hint}{FROM}, {TO}, {READING}")])
    return gathered.whole()


class _Gathered:
    """Gathers readings row by row, and what is wrong with them."""

    def __init__(self, table: PeopleTable) -> None:
        self.table = table
        self.problems = list(table.problems)
        self.terminals: dict[str, str] = {}
        self.positions: dict[str, str] = {}
        self.readings: list[Reading] = []

    def grid(self, pairs: Mapping[str, list[str]]) -> None:
        """A row per position, a column per pair."""
        if POSITION not in self.table.headings and len(self.table.rows) > 1:
            message = f"no heading says {POSITION!r}, and there are several rows"
            place = next(iter(self.table.rows[0].places.values()))
            raise InputError([Problem(place, message, hint=f"{POSITION} over the column with the positions")])
        seen: dict[str, FilePlace] = {}
        for row in self.table.rows:
            position = self._position(row, AT_REST if POSITION not in self.table.headings else "")
            if position is None:
                continue
            here = row.places[POSITION]
            if position in seen:
                related = ((seen[position], "first given here"),)
                self._fault(here, f"{POSITION} {position!r} is given twice", "one row for each", related)
            seen.setdefault(position, here)
            for name, (red, black) in pairs.items():
                self._read(row, position, red, black, name, name)

    def listed(self) -> None:
        """A row per reading; a position that is left empty is the one above."""
        position: str | None = AT_REST
        for row in self.table.rows:
            position = self._position(row, position or AT_REST)
            if position is not None:
                self._read(row, position, row.cells[FROM], row.cells[TO], FROM, READING)

    def whole(self) -> BenchReadings:
        """All of it; raises InputError if anything is wrong with it or nothing was read."""
        last = self.table.rows[-1].places.values() if self.table.rows else ()
        place = next(iter(last), FilePlace(self.table.file))
        for kind, names in (("terminals", self.terminals), ("positions", self.positions)):
            if len(names) > MOST_NAMES:
                self._fault(place, f"names {len(names)} {kind}; {MOST_NAMES} can be read", "one part a table")
        if not self.readings and not self.problems:
            self._fault(
                FilePlace(self.table.file), "nothing was read: every reading is empty", "at least one"
            )
        if self.problems:
            raise InputError(self.problems)
        powered = frozenset(name for name in self.positions.values() if is_powered(name))
        return BenchReadings(
            tuple(self.terminals.values()), tuple(self.positions.values()), tuple(self.readings), powered
        )

    def _position(self, row: TableRow, otherwise: str) -> str | None:
        text = " ".join(row.cells.get(POSITION, "").split()) or otherwise
        if not text:
            self._fault(row.places[POSITION], f"{POSITION} must be a name, got nothing", "off, 1, left ...")
            return None
        return self._named(text, self.positions, row.places[POSITION], POSITION)

    def _read(self, row: TableRow, position: str, red: str, black: str, at: str, reading: str) -> None:
        names = [
            self._named(name, self.terminals, row.places[column], "the terminal")
            for name, column in ((red, at), (black, TO if at == FROM else at))
        ]
        if None in names:
            return
        if names[0] == names[1]:
            self._fault(row.places[at], f"both leads are at {names[0]!r}", "two different terminals")
            return
        cells = Cells(row)
        says = cells.take(reading, read_between)
        self.problems += cells.faults
        if says is not None:
            self.readings.append(
                Reading(position, str(names[0]), str(names[1]), says, row.cells[reading], row.places[reading])
            )

    def _named(self, text: str, known: dict[str, str], place: FilePlace, what: str) -> str | None:
        """A name as it was first written; capitals make no other name."""
        name = " ".join(text.split())
        if not name or ":" in name or len(name) > LONGEST_NAME:
            hint = (
                f"what stands beside it, or a letter of your own; no colon, at most {LONGEST_NAME} characters"
            )
            self._fault(place, f"{what} must be a short name, got {name[:LONGEST_NAME]!r}", hint)
            return None
        return known.setdefault(name.casefold(), name)

    def _fault(
        self, place: FilePlace, message: str, hint: str, related: tuple[tuple[FilePlace, str], ...] = ()
    ) -> None:
        self.problems.append(Problem(place, message, related, hint))


def is_powered(position: str) -> bool:
    """Whether a position says that a coil was fed while it was read."""
    words = position.casefold()
    return bool(_POWERED.search(words)) and not _NOT_POWERED.search(words)
