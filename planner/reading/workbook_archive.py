"""The zip file around a workbook: unpacked under a bound, and packed again without what nobody reads."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO
from posixpath import join, normpath
from xml.etree import ElementTree
from zipfile import BadZipFile, ZipFile
from zlib import error as ZlibError

from planner.problems import FilePlace, InputError, Problem
from planner.reading.workbook_sheet import Malformed, MeasuredSheet, measure_sheet, measure_strings

MOST_MEMBERS = 500
MOST_UNPACKED = 16 * 1024 * 1024
_HINT = "opening it in a spreadsheet program and saving it as XLSX or CSV"
_NEEDED = re.compile(r"\[Content_Types\]\.xml|_rels/.*|xl/_rels/.*|xl/[^/]*\.xml|xl/worksheets/[^/]*\.xml")
_BOOK, _LINKS, _STRINGS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/sharedStrings.xml"


@dataclass(frozen=True, slots=True)
class Archive:
    """A workbook that was measured: its bytes, and by name the sheets that are not hidden."""

    content: bytes
    sheets: Mapping[str, MeasuredSheet]


def open_archive(content: bytes, file: str) -> Archive:
    """Unpack and measure a workbook.

    Raises
    ------
    InputError
        If it is no workbook, or holds more than can be read.
    """
    try:
        members = _members(content, file)
        strings = measure_strings(members[_STRINGS]) if _STRINGS in members else []
        sheets = {
            name: measure_sheet(members[member], file, strings)
            for name, member in _sheets(members)
            if member in members
        }
    except (Malformed, BadZipFile, ZlibError, NotImplementedError, RuntimeError, EOFError, OSError) as error:
        message = f"cannot be read as a workbook: {error}"
        raise InputError([Problem(FilePlace(file), message, hint=_HINT)]) from None
    if not sheets:
        raise InputError([Problem(FilePlace(file), "has no sheet to be read", hint=_HINT)])
    packed = BytesIO()
    with ZipFile(packed, "w") as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    return Archive(packed.getvalue(), sheets)


def _members(content: bytes, file: str) -> dict[str, bytes]:
    members: dict[str, bytes] = {}
    left = MOST_UNPACKED
    with ZipFile(BytesIO(content)) as archive:
        found = archive.infolist()
        if len(found) > MOST_MEMBERS:
            raise Malformed(f"more than {MOST_MEMBERS} files are packed in it")
        for info in found:
            if not _NEEDED.fullmatch(info.filename):
                continue
            if info.filename in members:
                raise Malformed(f"{info.filename} is packed in it twice")
            with archive.open(info) as stream:
                members[info.filename] = stream.read(left + 1)
            left -= len(members[info.filename])
            if left < 0:
                message = f"unpacks to more than {MOST_UNPACKED // 1024 // 1024} MB"
                raise InputError([Problem(FilePlace(file), message, hint="a workbook with the list alone")])
    if _BOOK not in members:
        raise Malformed(f"it has no {_BOOK}")
    return members


def _sheets(members: Mapping[str, bytes]) -> list[tuple[str, str]]:
    """Name and member of each sheet that is not hidden, in the order of their tabs."""
    targets = {
        link.get("Id", ""): normpath(join("/xl", link.get("Target", ""))).removeprefix("/")
        for link in _elements(members.get(_LINKS, b"<none/>"), "Relationship")
    }
    found: list[tuple[str, str]] = []
    for sheet in _elements(members[_BOOK], "sheet"):
        if sheet.get("state", "visible") != "visible":
            continue
        links = [targets[value] for key, value in sheet.items() if key.endswith("}id") and value in targets]
        found += [(sheet.get("name", ""), link) for link in links]
    return found


def _elements(content: bytes, tag: str) -> list[ElementTree.Element]:
    if b"<!DOCTYPE" in content or b"<!ENTITY" in content:
        raise Malformed("definitions of its own (DOCTYPE)")
    try:
        root = ElementTree.fromstring(content)
    except (ElementTree.ParseError, LookupError, ValueError) as error:
        raise Malformed(str(error)) from None
    return [element for element in root.iter() if element.tag.rpartition("}")[2] == tag]
