"""The table of a survey, filled in: each row back to its line, each cell to what it says."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.survey_lines import Answer, Answers, Asked, Method
from planner.problems import FilePlace, InputError, Problem
from planner.reading.colour_words import read_colour
from planner.reading.csv_table import TableRow
from planner.reading.fitting_words import read_fitting
from planner.reading.headings import Column
from planner.reading.people_tables import PeopleTable, read_table
from planner.reading.place_words import PlaceWords
from planner.reading.row_cells import Cells
from planner.reading.survey_supply import BLANK, is_about_vehicle
from planner.reading.typed_values import NotUnderstood, plain
from planner.reading.validate import suggest
from planner.reading.wire_readings import read_at_wire
from planner.reading.wire_sizes import read_size

NO_WIRE = frozenset(("none", "no wire", "empty", "nothing there", "not there", "bare", "-", "no"))
COLUMNS = (
    Column("part", also=("place", "component", "where"), required=True),
    Column("terminal", also=("mark", "pin", "tab"), required=True),
    Column("wire", also=("wire number", "which wire")),
    Column("colour seen", also=("colour", "color", "wire colour", "wire color", "color seen")),
    Column("meter says", also=("meter", "reading", "measured", "goes to")),
    Column("fitting", also=("end", "connector")),
    Column("size", also=("mm2", "cross-section", "wire size", "gauge")),
    Column("note", also=("notes", "remark", "remarks"), lines=True),
    Column("how to measure", also=("how",), lines=True),
)
Key = tuple[str, str, int]


def survey_table(path: Path) -> PeopleTable:
    """The rows of a survey's table; raises InputError if the file as a whole is no such table."""
    return read_table(path, COLUMNS)


@dataclass(frozen=True)
class SurveyReader:
    """Reads what is typed about the lines of one survey."""

    asked: Sequence[Asked]
    titles: Mapping[str, str]  # of each place asked about
    loom: Loom
    catalogue: Catalogue
    methods: Mapping[Key, Method] = field(default_factory=dict)  # how each line's reading is asked for

    def colour(self, text: str) -> Answer:
        """What a person typed for the colour, or that there is no wire; raises NotUnderstood."""
        typed = plain(text)
        if typed in BLANK:
            return Answer()
        if typed in NO_WIRE:
            return Answer(no_wire=True)
        found = read_colour(text)
        return Answer(colour=found.code, colour_said=found.note)

    def meter(self, text: str, method: Method | None = None) -> Answer:
        """What a person typed for the reading, or that there is no wire; raises NotUnderstood.

        ``method`` is how it was asked for, where it was.
        """
        typed = plain(text)
        if typed in BLANK:
            return Answer()
        if typed == "none":
            message = "'none' may say that no wire is there, or that the meter finds nothing"
            raise NotUnderstood(message, "'no wire' or 'nothing'")
        if typed in NO_WIRE:
            return Answer(no_wire=True)
        return Answer(reading=read_at_wire(text, self.loom, self.catalogue, method))

    def read(self, table: PeopleTable) -> tuple[Answers, tuple[Problem, ...]]:
        """The answers of a table's rows, and what is wrong with others; good cells beside a bad one stay."""
        problems = list(table.problems)
        answers: dict[Key, Answer] = {}
        places: dict[Key, FilePlace] = {}
        for row in table.rows:
            if is_about_vehicle(row):
                continue
            try:
                key = self._key(row, answers)
            except InputError as error:
                problems += error.problems
                continue
            if key in places:
                related = ((places[key], "first given here"),)
                problems.append(Problem(row.places["terminal"], "this wire has two rows", related))
                continue
            answer = self._answer(row, key, problems)
            places[key] = row.places["terminal"]
            answers[key] = answer
        return Answers(answers), tuple(problems)

    def _key(self, row: TableRow, answers: Mapping[Key, Answer]) -> Key:
        place = self._place(row)
        marks = list(dict.fromkeys(line.mark for line in self.asked if line.place == place))
        mark = row.cells["terminal"]
        alike = [known for known in marks if plain(known) == plain(mark)]
        if mark not in marks and len(alike) != 1:
            message = f"the {self.titles[place]} has no terminal {mark!r}" if mark else "no terminal is given"
            raise InputError([Problem(row.places["terminal"], message, hint=f"one of: {', '.join(marks)}")])
        mark = mark if mark in marks else alike[0]
        return place, mark, self._number(row, place, mark, answers)

    def _place(self, row: TableRow) -> str:
        said = plain(row.cells["part"])
        found = [place for place in self.titles if said == plain(place)]
        found = found or list(PlaceWords(self.titles).places_called(said))
        if len(found) == 1:
            return found[0]
        names = list(self.titles.values())
        message = f"no part of this survey is called {row.cells['part']!r}" if said else "no part is given"
        if found:
            message = f"{row.cells['part']!r} may mean {len(found)} parts"
            names = [self.titles[place] for place in found]
        hint = suggest(row.cells["part"], names) or f"one of: {'; '.join(names)}"
        raise InputError([Problem(row.places["part"], message, hint=hint)])

    def _number(self, row: TableRow, place: str, mark: str, answers: Mapping[Key, Answer]) -> int:
        """Which wire of the terminal: as the cell says (``2``, ``2 of 2``), else the next."""
        said = plain(row.cells["wire"])
        if not said:
            taken = [number for p, m, number in answers if (p, m) == (place, mark)]
            return max(taken, default=0) + 1
        first = said.removeprefix("wire ").partition(" ")[0].partition("/")[0]
        if not first.isascii() or not first.isdecimal() or not 1 <= int(first) <= 99:
            message = f"wire must be a number, such as 1 or 1 of 2, got {row.cells['wire']!r}"
            raise InputError([Problem(row.places["wire"], message)])
        return int(first)

    def _answer(self, row: TableRow, key: Key, problems: list[Problem]) -> Answer:
        cells = Cells(row)
        colour = cells.take("colour seen", self.colour) or Answer()
        meter = cells.take("meter says", lambda text: self.meter(text, self.methods.get(key))) or Answer()
        fitting, mm2 = cells.take("fitting", _fitting), cells.take("size", self._size)
        problems += cells.faults
        no_wire = colour.no_wire or meter.no_wire
        found = Answer(
            colour.colour, colour.colour_said, meter.reading, fitting, mm2, no_wire, _note(row.cells["note"])
        )
        problems += self._contrary(row, key, found)
        return found

    def _contrary(self, row: TableRow, key: Key, answer: Answer) -> Iterator[Problem]:
        """What one row says that cannot be true together, or says of a wire whose colour nobody gave."""
        place, mark, number = key
        line = next(
            (line for line in self.asked if line.key == key),
            next(line for line in self.asked if (line.place, line.mark) == (place, mark)),
        )
        if answer.no_wire and (answer.colour or answer.reading):
            message = "no wire is there, and yet it has a colour or a reading"
            yield Problem(row.places["colour seen"], message, hint="one of the two")
        is_more = number > line.count or (line.kind == "empty" and line.is_swapped)
        if is_more and answer.reading and not answer.colour:
            message = "a wire that the pattern does not have needs its colour"
            yield Problem(row.places["colour seen"], message, hint="a colour such as black or black/red")
        if line.kind == "mounting" and answer.colour:
            message = f"a mounting has no colour, got {row.cells['colour seen']!r}"
            yield Problem(row.places["colour seen"], message, hint="'0 ohms to body' under 'meter says'")
        if line.kind == "mounting" and answer.reading and answer.reading.kind in ("live", "link"):
            message = f"a mounting is earthed or not, got {answer.reading.said!r}"
            yield Problem(row.places["meter says"], message, hint="0 ohms to body, or nothing")

    def _size(self, text: str) -> float | None:
        return None if plain(text) in BLANK else read_size(text, self.catalogue.standards.gauges, "mm2")


def _fitting(text: str) -> str | None:
    return None if plain(text) in BLANK else read_fitting(text)


def _note(text: str) -> str:
    """One line of what stands in a note; signs that no file of ours may hold are left out."""
    return "".join(sign for sign in " ".join(text.split()) if sign.isprintable())[:200]
