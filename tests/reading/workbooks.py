"""Workbooks for tests, written by the library itself and changed afterwards where it would not do that."""

from collections.abc import Callable, Mapping
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

from xlsxwriter import Workbook


def workbook(fill: Callable[[Any], None], **more: Callable[[Any], None]) -> bytes:
    """A workbook of one sheet, or of more by their names, each filled by a function."""
    content = BytesIO()
    book = Workbook(content, {"in_memory": True})
    for name, filled in {"List": fill, **more}.items():
        filled(book.add_worksheet(name))
    book.close()
    return content.getvalue()


def rows(*lines: tuple[Any, ...]) -> Callable[[Any], None]:
    """Fill a sheet with rows from the top left."""

    def fill(sheet: Any) -> None:
        for number, line in enumerate(lines):
            sheet.write_row(number, 0, line)

    return fill


def changed(content: bytes, changes: Mapping[str, Callable[[bytes], bytes]]) -> bytes:
    """A workbook with some of its members changed; one that was not there begins empty."""
    packed = BytesIO()
    with ZipFile(BytesIO(content)) as old, ZipFile(packed, "w", ZIP_DEFLATED) as new:
        for name in dict.fromkeys([*old.namelist(), *changes]):
            data = old.read(name) if name in old.namelist() else b""
            new.writestr(name, changes.get(name, lambda same: same)(data))
    return packed.getvalue()


def saved(folder: Path, content: bytes | str, name: str = "list.xlsx") -> Path:
    """A file with this content."""
    path = folder / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path
