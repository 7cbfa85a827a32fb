"""How far one sheet of a workbook reaches, what is merged in it, and which cells hold no value to be read.

The library that reads the values makes room for every cell up to the last one, and gives an error or a
formula that was never computed as an empty cell; so both are found here first.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Protocol
from xml.parsers import expat

from planner.problems import FilePlace, InputError, Problem
from planner.reading.raw_table import MAX_COLUMNS, MAX_ROWS

# Many cells may share one long text, and each gets a copy of it.
MOST_CHARACTERS = 4 * 1024 * 1024
_SPOT = re.compile(r"([A-Z]{1,3})([1-9][0-9]{0,6})\Z")
Spot = tuple[int, int]


@dataclass(slots=True)
class MeasuredSheet:
    """Merged ranges and cells without a value, by row and column from 1."""

    merged: list[tuple[Spot, Spot]] = field(default_factory=list)
    without_value: dict[Spot, str] = field(default_factory=dict)


class Malformed(Exception):
    """A member of a workbook that is not the XML it should be."""


def measure_sheet(content: bytes, file: str, strings: Sequence[int]) -> MeasuredSheet:
    """Go once through a sheet; ``strings`` are the lengths of the texts that its cells may share.

    Raises
    ------
    InputError
        If a cell with a value lies further out than can be read, or there is too much text.
    Malformed
        If it is no XML, or XML with definitions of its own.
    """
    walker = _Walker(file, strings)
    _walk(content, walker)
    return walker.sheet


def measure_strings(content: bytes) -> list[int]:
    """The lengths of the texts that cells share; Malformed if it is not the XML that it should be."""
    walker = _Strings()
    _walk(content, walker)
    return walker.lengths


class _Handler(Protocol):
    """What the parser tells about one member."""

    def start(self, name: str, attributes: dict[str, str], /) -> None: ...
    def end(self, name: str, /) -> None: ...
    def text(self, text: str, /) -> None: ...


def _walk(content: bytes, handler: _Handler) -> None:
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = handler.start
    parser.EndElementHandler = handler.end
    parser.CharacterDataHandler = handler.text
    parser.StartDoctypeDeclHandler = _refuse_definitions
    try:
        parser.Parse(content, True)
    except (
        expat.ExpatError,
        LookupError,
        ValueError,
    ) as error:  # the last two: an encoding that there is not
        raise Malformed(str(error)) from None


def _refuse_definitions(*_: object) -> None:
    raise Malformed("definitions of its own (DOCTYPE)")


class _Strings:
    """Counts the characters of each shared text."""

    def __init__(self) -> None:
        self.lengths: list[int] = []

    def start(self, name: str, _attributes: dict[str, str]) -> None:
        if name.rpartition(" ")[2] == "si":
            self.lengths.append(0)

    def end(self, _name: str) -> None:
        """Nothing is counted at the end."""

    def text(self, text: str) -> None:
        if self.lengths:
            self.lengths[-1] += len(text)


class _Walker:
    """Follows rows and cells; one without its own reference comes after the one before."""

    def __init__(self, file: str, strings: Sequence[int]) -> None:
        self.file = file
        self.strings = strings
        self.characters = 0
        self.sheet = MeasuredSheet()
        self.row = self.column = 0
        self.inside: list[str] = []
        self.is_error = self.is_shared = self.has_formula = False
        self.value = ""

    def start(self, name: str, attributes: dict[str, str]) -> None:
        tag = name.rpartition(" ")[2]
        self.inside.append(tag)
        if tag == "row":
            given = attributes.get("r", "")
            self.row = int(given) if given.isdecimal() and len(given) < 8 else self.row + 1
            self.column = 0
        elif tag == "c":
            self.row, self.column = _spot(attributes.get("r", "")) or (self.row, self.column + 1)
            self.is_error = attributes.get("t") == "e"
            self.is_shared = attributes.get("t") == "s"
            self.has_formula = False
            self.value = ""
        elif tag == "f":
            self.has_formula = True
        elif tag == "mergeCell":
            first, _, last = attributes.get("ref", "").partition(":")
            corners = _spot(first), _spot(last or first)
            if corners[0] and corners[1]:
                self.sheet.merged.append((corners[0], corners[1]))

    def text(self, text: str) -> None:
        if self.inside[-1] in ("v", "t") and "c" in self.inside:
            self.value += text

    def end(self, _name: str) -> None:
        tag = self.inside.pop()
        if tag != "c":
            return
        spot = (self.row, self.column)
        if self.is_error:
            self.sheet.without_value[spot] = "holds an error of a formula"
        elif self.has_formula and not self.value:
            self.sheet.without_value[spot] = "holds a formula whose value is not stored in the file"
        elif self.is_shared and self.value and self._shared() is None:
            self.sheet.without_value[spot] = "refers to a text that the file does not have"
        self.characters += self._length()
        if self.characters > MOST_CHARACTERS:
            message = f"holds more than {MOST_CHARACTERS // 1024 // 1024} million characters"
            raise InputError([Problem(FilePlace(self.file, *spot), message)])
        if (self.value or self.has_formula) and (self.row > MAX_ROWS or self.column > MAX_COLUMNS):
            message = f"a cell beyond row {MAX_ROWS} or column {MAX_COLUMNS} cannot be read"
            raise InputError([Problem(FilePlace(self.file, *spot), message)])

    def _length(self) -> int:
        """How many characters the cell will have."""
        return (self._shared() or 0) if self.is_shared else len(self.value)

    def _shared(self) -> int | None:
        """The length of the shared text that the cell refers to; None if there is none."""
        number = int(self.value) if self.value.isdecimal() and len(self.value) < 9 else len(self.strings)
        return self.strings[number] if number < len(self.strings) else None


def _spot(reference: str) -> Spot | None:
    found = _SPOT.match(reference)
    if not found:
        return None
    column = 0
    for letter in found[1]:
        column = 26 * column + ord(letter) - ord("A") + 1
    return int(found[2]), column
