"""Parts in files: found by their lines, and each read when it is asked for.

A run needs few of the parts that there are. So a file is only looked through for the lines that start a part
and name its family, and a part is read, from its own lines, when it is wanted. A file whose lines do not tell
its parts is read at once, and one in which a wanted part is faulty is read whole, to say all its faults.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from planner.model.catalogue import PartShelf, Publication
from planner.model.part import Part, Role
from planner.problems import FilePlace, InputError, Problem
from planner.reading.part_references import check_part
from planner.reading.validate import MOST_FAULTS, build, met
from planner.reading.yaml_source import MAX_BYTES, Document, parse_document, read_content, shown_name

_END = rb"[ \t]*(?:[ \t]#[^\n]*)?(?=\r?\n|\Z)"
_START_LINE = re.compile(rb"\n- part:[ \t]+([a-z0-9][a-z0-9.-]*)" + _END)
_FAMILY_LINE = re.compile(rb"\n  family:[ \t]+([a-z0-9][a-z0-9-]*)" + _END)
_UNINDENTED = re.compile(rb"\n[^ \n\r#]")
_BYTE_ORDER_MARK = b"\xef\xbb\xbf"

Names = tuple[Mapping[str, Role], Mapping[str, Publication]]


class Entry(NamedTuple):
    """One part as its lines tell it, and where in the file's bytes it stands."""

    name: str
    family: str
    place: FilePlace
    start: int = 0
    end: int = 0


class PartFile:
    """One file of parts, checked against roles and sources; raises InputError if it cannot be opened."""

    def __init__(self, path: Path, names: Names) -> None:
        self.file = shown_name(path)
        self._names = names
        self._content = read_content(path).removeprefix(_BYTE_ORDER_MARK)
        by_line = _entries(self._content, self.file)
        self.is_plain = by_line is not None
        self.entries = self._entries_as_read() if by_line is None else by_line

    @property
    def faults(self) -> list[Problem]:
        """What is known to be wrong in it before any part is wanted."""
        return [] if self.is_plain else self._read[2]

    def mentions(self, entry: Entry, word: str) -> bool:
        """Whether a part may say a word; with an escape in its text, anything may be said."""
        here = (entry.start, entry.end)
        return not self.is_plain or any(
            self._content.find(said, *here) >= 0 for said in (word.encode(), b"\\")
        )

    def take(self, entry: Entry) -> Part:
        """One part, checked; raises InputError with every fault of the file if the part has any."""
        if self.is_plain:
            text = b"\n" * (entry.place.line - 1) + self._content[entry.start : entry.end]
            document, parts, problems = _build_parts(text, self.file)
            problems = problems or self._lost_names(document, parts)
            if not problems and [(p.part, p.family) for _, p in parts] == [entry[:2]]:
                return parts[0][1]
        return self.parts[entry.name]

    @cached_property
    def parts(self) -> Mapping[str, Part]:
        """All its parts by their ids, checked; raises InputError with every fault of the file."""
        document, parts, faults = self._read
        problems = [*faults, *self._lost_names(document, parts)]
        read = {(part.part, part.family) for _, part in parts}
        unlike = [entry for entry in self.entries if entry[:2] not in read]
        if not problems:
            message = "looks like the start of a part, but the line belongs to a text"
            problems = [Problem(entry.place, message, hint="indenting the line") for entry in unlike]
        if problems:
            raise InputError(problems)
        return {part.part: part for _, part in parts}

    @cached_property
    def _read(self) -> tuple[Document | None, list[tuple[int, Part]], list[Problem]]:
        return _build_parts(self._content, self.file)

    def _entries_as_read(self) -> list[Entry]:
        document, parts, _ = self._read
        return [
            Entry(part.part, part.family, document.value_place((index, "part")))
            for index, part in parts
            if document is not None
        ]

    def _lost_names(self, document: Document | None, parts: list[tuple[int, Part]]) -> list[Problem]:
        if document is None:
            return []
        return [p for index, part in parts for p in check_part(part, document, (index,), *self._names)]


class PartsInFiles(PartShelf):
    """The parts of many files by their ids, in the order of the files."""

    def __init__(self) -> None:
        self._where: dict[str, tuple[PartFile, Entry]] = {}
        self._taken: dict[str, Part] = {}

    def add(self, file: PartFile, entry: Entry) -> None:
        """Put a part on the shelf that has not been read."""
        self._where[entry.name] = (file, entry)

    def family(self, name: str, words: Sequence[str] = ()) -> Iterator[Part]:
        """Yield parts of a family among which are all that say every one of some words."""
        return (
            self[entry.name]
            for file, entry in self._where.values()
            if entry.family == name and all(file.mentions(entry, word) for word in words)
        )

    def mentioning(self, word: str) -> Iterator[Part]:
        """Yield parts among which are all that say a word."""
        return (self[entry.name] for file, entry in self._where.values() if file.mentions(entry, word))

    def __getitem__(self, name: str) -> Part:
        if name not in self._taken:
            file, entry = self._where[name]
            self._taken[name] = file.take(entry)
        return self._taken[name]

    def __contains__(self, name: object) -> bool:
        return name in self._where

    def __iter__(self) -> Iterator[str]:
        return iter(self._where)

    def __len__(self) -> int:
        return len(self._where)


def _build_parts(content: bytes, file: str) -> tuple[Document | None, list[tuple[int, Part]], list[Problem]]:
    """The parts that can be built, with their numbers in the list, and what is wrong with the others."""
    try:
        document = parse_document(content, file)
    except InputError as error:
        return None, [], list(error.problems)
    if not isinstance(document.data, list):
        message = f"must be a list of parts, got {met(document.data)}"
        return None, [], [Problem(document.value_place(()), message)]
    parts: list[tuple[int, Part]] = []
    problems: list[Problem] = []
    for index in range(len(document.data)):
        part, found = build(Part, document, (index,))
        problems += found
        if part is not None:
            parts.append((index, part))
        if len(problems) >= MOST_FAULTS:
            break
    return document, parts, problems


def _entries(content: bytes, file: str) -> list[Entry] | None:
    """The parts of a file by their lines, or None if these do not tell them all."""
    text = b"\n" + content
    if len(content) > MAX_BYTES or text.count(b"\r") != text.count(b"\r\n"):
        return None  # it is refused when it is read; or lines end where only some see it
    starts = list(_START_LINE.finditer(text))
    families = list(_FAMILY_LINE.finditer(text))
    if not starts or len(starts) != len(_UNINDENTED.findall(text)) or len(starts) != len(families):
        return None
    ends = [start.start() for start in starts[1:]] + [len(text)]
    entries: list[Entry] = []
    line = seen = 0
    for start, family, end in zip(starts, families, ends, strict=True):
        if not start.end() <= family.start() < end:
            return None
        line += text.count(b"\n", seen, start.start() + 1)
        seen = start.start() + 1
        place = FilePlace(file, line, start.start(1) - start.start())
        entries.append(Entry(start[1].decode(), family[1].decode(), place, start.start(), end - 1))
    return entries
