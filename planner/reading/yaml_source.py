"""YAML text as plain data, every scalar kept as text, with the line and column of each key and value.

Positions such as ``off`` and marks such as ``030`` must reach the models as they were written, so no
scalar is given a type here. Whatever could make one file mean two things (equal keys, aliases, tags,
several documents) is refused.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any

import yaml
from yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    NodeEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from planner.problems import FilePlace, InputError, Problem
from planner.reading.noting import note

DataPath = tuple[str | int, ...]
MAX_BYTES = 4 * 1024 * 1024
_USUAL_BYTES = 64 * 1024
MAX_DEPTH = 32
MAX_VALUES = 50_000  # a loom of a thousand wires has some 15,000
# A file that is no text at all has too many to list.
MOST_SHOWN = 20
# Line breaks that only some readers count would shift every line number; direction marks can make a
# file look unlike what is read from it.
_REFUSED = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufffe\uffff]"
)
_LINE_BREAK = re.compile("\r\n|\r|\n")
_NULLS = frozenset({"~", "null", "Null", "NULL"})
_PLAINER = {
    "mapping values are not allowed in this context": (
        "a colon where no new key can stand",
        "quotes around a text that has a colon followed by a space, or one key a line",
    ),
    "found character that cannot start any token": (
        "a character that no plain text can start with",
        "spaces instead of tabs, and quotes around a text that starts with @, ` or %",
    ),
    "could not find expected ':'": ("a key without its colon", "a colon and a space after the key"),
    "did not find expected key": (
        "a line that is not indented as its neighbours are",
        "the indent of the lines above",
    ),
}


@dataclass(frozen=True, slots=True)
class Document:
    """One YAML file as plain data, and where each key and value stands in it.

    Data may have been added to it from other files, whose places are told by ``elsewhere``.
    """

    file: str
    data: Any
    keys: Mapping[DataPath, tuple[int, int]]
    values: Mapping[DataPath, tuple[int, int]]
    elsewhere: Mapping[DataPath, FilePlace] = field(default_factory=dict)

    def nearest(self, loc: DataPath) -> DataPath:
        """The real path for a path that may hold parts that are no key or index of the data."""
        data = self.data
        path: DataPath = ()
        for part in loc:
            if isinstance(data, dict):
                known = part in data
            else:
                known = isinstance(data, list) and isinstance(part, int) and part < len(data)
            if known:
                data = data[part]
                path = (*path, part)
        return path

    def at(self, path: DataPath) -> Any:
        """The data at a real path."""
        data = self.data
        for part in path:
            data = data[part]
        return data

    def value_place(self, loc: DataPath) -> FilePlace:
        """Where the value at a path stands, or what it was added to."""
        path = self.nearest(loc)
        while path not in self.values and path not in self.elsewhere:
            path = path[:-1]
        return self.elsewhere.get(path) or FilePlace(self.file, *self.values[path])

    def key_place(self, loc: DataPath) -> FilePlace:
        """Where the key at the end of a path stands; the value, if it has no key of its own."""
        path = self.nearest(loc)
        return FilePlace(self.file, *self.keys[path]) if path in self.keys else self.value_place(path)


def shown_name(path: Path) -> str:
    """A path as people see it: relative to the folder they are in, where it lies below it."""
    if path.is_absolute() and path.is_relative_to(Path.cwd()):
        return str(path.relative_to(Path.cwd()))
    return str(path)


def read_document(path: Path) -> Document:
    """Read one YAML file.

    Raises
    ------
    InputError
        With every fault that was found in the file, or that it cannot be opened.
    """
    return parse_document(read_content(path), shown_name(path))


def read_lines(path: Path) -> list[str]:
    """The lines of one text file, without their ends.

    Raises
    ------
    InputError
        With every character that no file may hold, or that it cannot be opened.
    """
    lines = _LINE_BREAK.split(_decode(read_content(path), shown_name(path)))
    return lines if lines[-1] else lines[:-1]


def read_content(path: Path) -> bytes:
    """The bytes of one file, at most one more than may be read.

    Raises
    ------
    InputError
        If it cannot be opened.
    """
    note(path)
    try:
        with path.open("rb") as stream:
            content = stream.read(_USUAL_BYTES)
            # Asked for all at once, every small file would get room for the largest, and twice the time.
            return content + (
                stream.read(MAX_BYTES + 1 - len(content)) if len(content) == _USUAL_BYTES else b""
            )
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError([Problem(FilePlace(shown_name(path)), f"cannot be read: {reason}")]) from None


def parse_document(content: bytes | str, file: str) -> Document:
    """Turn YAML into data with places; ``file`` is the name to print.

    Raises
    ------
    InputError
        With every fault that was found in the text.
    """
    text = _decode(content, file)
    builder = _Builder(file)
    try:
        data = builder.build(yaml.parse(text, Loader=yaml.CSafeLoader))
    except yaml.YAMLError as error:
        raise InputError([*builder.problems, _syntax_problem(error, file)]) from None
    if builder.problems:
        raise InputError(builder.problems)
    return Document(file, data, builder.keys, builder.values)


def _decode(content: bytes | str, file: str) -> str:
    raw = content.encode("utf-8", "surrogatepass") if isinstance(content, str) else content
    must_be_small(raw, file)
    try:
        text = raw.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        place = _place_in(raw[: error.start].decode("utf-8").removeprefix("\ufeff"), file)
        message = f"byte {raw[error.start]:#04x} is not UTF-8 text"
        raise InputError([Problem(place, message, hint="saving the file as UTF-8")]) from None
    return without_refused(text, file)


def must_be_small(content: bytes, file: str) -> None:
    """Raise InputError if there is more than may be read of one file."""
    if len(content) > MAX_BYTES:
        message = f"the file is larger than {MAX_BYTES // 1024 // 1024} MB"
        raise InputError([Problem(FilePlace(file), message, hint="several smaller files")])


def without_refused(text: str, file: str) -> str:
    """The text as it is, if it has no character that no file may hold; else InputError with their places."""
    refused = [
        Problem(_place_in(text[: found.start()], file), _refusal(found))
        for found in islice(_REFUSED.finditer(text), MOST_SHOWN)
    ]
    if refused:
        raise InputError(refused)
    return text


def refused_character(text: str) -> str | None:
    """What is wrong with a text that holds a character which no file may hold; None if it has none."""
    found = _REFUSED.search(text)
    return _refusal(found) if found else None


def _place_in(before: str, file: str) -> FilePlace:
    lines = _LINE_BREAK.split(before)
    return FilePlace(file, len(lines), len(lines[-1]) + 1)


def _refusal(found: re.Match[str]) -> str:
    return f"the invisible character U+{ord(found.group()):04X} is not allowed"


def _syntax_problem(error: yaml.YAMLError, file: str) -> Problem:
    mark = getattr(error, "problem_mark", None)
    said = getattr(error, "problem", None) or str(error)
    place = FilePlace(file, mark.line + 1, mark.column + 1) if mark else FilePlace(file)
    context, context_mark = getattr(error, "context", None), getattr(error, "context_mark", None)
    related: tuple[tuple[FilePlace, str], ...] = ()
    if context and context_mark:
        related = ((FilePlace(file, context_mark.line + 1, context_mark.column + 1), context),)
    message, hint = _PLAINER.get(said, (said, None))
    return Problem(place, f"not valid YAML: {message}", related, hint)


def _spot(event: Event) -> tuple[int, int]:
    mark: Any = event.start_mark
    return mark.line + 1, mark.column + 1


class _Builder:
    """Builds the data of one document from parser events, going on after a fault where it can."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.keys: dict[DataPath, tuple[int, int]] = {}
        self.values: dict[DataPath, tuple[int, int]] = {}

    def build(self, events: Iterator[Event]) -> Any:
        next(events)  # the stream's start
        if isinstance(next(events), StreamEndEvent):
            raise InputError([Problem(FilePlace(self.file), "the file is empty")])
        data = self._node(events, next(events), ())
        next(events)  # the document's end
        after = next(events)
        if isinstance(after, DocumentStartEvent):
            self._note(after, "a second document starts here; a file holds one", "a file of its own for it")
        return data

    def _note(self, event: Event, message: str, hint: str | None = None) -> None:
        self.problems.append(Problem(FilePlace(self.file, *_spot(event)), message, hint=hint))

    def _node(self, events: Iterator[Event], event: Event, path: DataPath) -> Any:
        self.values[path] = _spot(event)
        if len(self.values) > MAX_VALUES:
            self._note(event, f"the file has more than {MAX_VALUES:,} values", "several smaller files")
            raise InputError(self.problems)
        if isinstance(event, ScalarEvent):
            if event.anchor is not None or event.tag is not None:
                self._refuse_marks(event)
            if event.style == '"':
                for found in _REFUSED.finditer(event.value):
                    self._note(event, _refusal(found))
            # Only an unquoted null is nothing; a quoted one is a word like any other.
            return "" if event.value in _NULLS and event.implicit[0] else event.value
        if isinstance(event, AliasEvent):
            self._note(event, f"alias *{event.anchor} is not allowed", "writing the value out")
            return ""
        self._refuse_marks(event)
        if len(path) >= MAX_DEPTH:
            self._note(event, f"nested deeper than {MAX_DEPTH} levels")
            raise InputError(self.problems)
        if isinstance(event, SequenceStartEvent):
            return self._sequence(events, path)
        return self._mapping(events, path)

    def _refuse_marks(self, event: Event) -> None:
        if isinstance(event, NodeEvent) and event.anchor is not None:
            self._note(event, f"anchor &{event.anchor} is not allowed", "leaving it out")
        tag = getattr(event, "tag", None)
        if tag is not None:
            self._note(event, f"tag {tag} is not allowed", "leaving it out; every value is read as text")

    def _sequence(self, events: Iterator[Event], path: DataPath) -> list[Any]:
        items: list[Any] = []
        while not isinstance(event := next(events), SequenceEndEvent):
            items.append(self._node(events, event, (*path, len(items))))
        return items

    def _mapping(self, events: Iterator[Event], path: DataPath) -> dict[str, Any]:
        items: dict[str, Any] = {}
        while not isinstance(event := next(events), MappingEndEvent):
            if not isinstance(event, ScalarEvent):
                self._note(event, "a key must be plain text", "quotes around it")
                self._discard(events, event, path)
                self._discard(events, next(events), path)
                continue
            self._refuse_marks(event)
            below = (*path, event.value)
            if event.value in items:
                self._refuse_repeated(event, below)
                self._discard(events, next(events), path)
                continue
            self.keys[below] = _spot(event)
            items[event.value] = self._node(events, next(events), below)
        return items

    def _refuse_repeated(self, event: ScalarEvent, path: DataPath) -> None:
        place = FilePlace(self.file, *_spot(event))
        first = FilePlace(self.file, *self.keys[path])
        message = f"key {event.value!r} is given twice"
        self.problems.append(
            Problem(place, message, ((first, "first given here"),), "leaving one of them out")
        )

    def _discard(self, events: Iterator[Event], event: Event, path: DataPath) -> None:
        """Pass over a node that cannot be kept, still looking for faults inside it."""
        aside = _Builder(self.file)
        aside.problems = self.problems
        # The path only counts depth here; what it names is thrown away.
        aside._node(events, event, (*path, ""))
