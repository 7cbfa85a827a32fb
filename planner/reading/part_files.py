"""One file of parts: found by their lines, and each read when it is asked for.

A run needs few of the parts that there are. So a file is only looked through for the lines that start a part
and name its family, and a part is read, from its own lines, when it is wanted. A file whose lines do not tell
its parts is read at once, and one in which a wanted part is faulty is read whole, to say all its faults.
"""

import re
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from planner.model.catalogue import Publication
from planner.model.part import Part, Role
from planner.problems import FilePlace, InputError, Problem
from planner.reading.part_references import check_part
from planner.reading.validate import MOST_FAULTS, build, met
from planner.reading.yaml_source import MAX_BYTES, Document, parse_document, read_content, shown_name

_END = rb"[ \t]*(?:[ \t]#[^\n]*)?(?=\r?\n|\Z)"
# What starts at the margin, and the lines of a part that tell its id and its family.
_TELLING = re.compile(
    rb"\n(?:- part:[ \t]+([a-z0-9][a-z0-9.-]*)"
    + _END
    + rb"|  family:[ \t]+([a-z0-9][a-z0-9-]*)"
    + _END
    + rb"|[^ \n\r#])"
)
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
        told = _told_by_lines(self._content)
        self.is_plain = told is not None
        self._told = told or [(entry.name, entry.family) for entry in self.entries]

    @property
    def parts_named(self) -> list[str]:
        """The ids of its parts, in their order."""
        return [name for name, _ in self._told]

    @property
    def faults(self) -> list[Problem]:
        """What is known to be wrong in it before any part is wanted."""
        return [] if self.is_plain else self._read[2]

    @cached_property
    def entries(self) -> list[Entry]:
        """Its parts and where they stand; looked for only in a file of which something is wanted."""
        return self._entries_by_lines() if self.is_plain else self._entries_as_read()

    def entry(self, name: str) -> Entry:
        """The part of an id, the first if there are several."""
        return self.entries[self.parts_named.index(name)]

    def of_family(self, name: str) -> list[Entry]:
        """Its parts of a family."""
        return [self.entries[at] for at, (_, family) in enumerate(self._told) if family == name]

    def mentions(self, entry: Entry, word: str) -> bool:
        """Whether a part may say a word; with an escape in its text, anything may be said."""
        here = (entry.start, entry.end)
        return not self.is_plain or any(
            self._content.find(said, *here) >= 0 for said in (word.encode(), b"\\")
        )

    def figures(self, entry: Entry, key: str) -> list[float] | None:
        """Figures among which are all that a part gives under a key; None if its lines may give others."""
        text = self._content[entry.start : entry.end]
        told = re.findall(
            rb"(?<![a-z])%s(?![a-z])(?:: *([0-9]+(?:\.[0-9]+)?)(?=[\s,}]))?" % key.encode(), text
        )
        if not self.is_plain or b"\\" in text or not all(told):
            return None  # written in another way, or the word stands in a text
        return [float(figure) for figure in told]

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

    def _entries_by_lines(self) -> list[Entry]:
        """Where each part stands in a file whose lines tell them all: from its line to the next part's."""
        text = b"\n" + self._content
        starts = [found for found in _TELLING.finditer(text) if found[1] is not None]
        ends = [start.start() for start in starts[1:]] + [len(text)]
        entries: list[Entry] = []
        line = seen = 0
        for (name, family), start, end in zip(self._told, starts, ends, strict=True):
            line += text.count(b"\n", seen, start.start() + 1)
            seen = start.start() + 1
            place = FilePlace(self.file, line, start.start(1) - start.start())
            entries.append(Entry(name, family, place, start.start(), end - 1))
        return entries

    def _lost_names(self, document: Document | None, parts: list[tuple[int, Part]]) -> list[Problem]:
        if document is None:
            return []
        return [p for index, part in parts for p in check_part(part, document, (index,), *self._names)]


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


def _told_by_lines(content: bytes) -> list[tuple[str, str]] | None:
    """Id and family of each part of a file by their lines, or None if these do not tell them all."""
    if len(content) > MAX_BYTES:
        return None  # it is refused when it is read
    if b"\r" in content and content.count(b"\r") != content.count(b"\r\n"):
        return None  # lines end where only some see it
    told = _TELLING.findall(b"\n" + content)
    names, families = [name for name, _ in told[::2]], [family for _, family in told[1::2]]
    if not told or len(names) != len(families) or not all(names) or not all(families):
        return None
    return [(name.decode(), family.decode()) for name, family in zip(names, families, strict=True)]
