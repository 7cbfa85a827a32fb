"""Malformed wire lists and kits: texts, workbooks, and good ones with one bad cell."""

import codecs
import re
from collections.abc import Callable
from io import BytesIO
from typing import Any
from zipfile import ZIP_BZIP2, ZIP_DEFLATED, ZipFile

import pytest
from xlsxwriter import Workbook

HEAD = ("wire", "colour", "mm2", "metres", "from", "to", "known", "fittings", "bundle")
GOOD = ("W1", "red", "1.5", "0.8", "wiper switch / B", "loose", "seen", "", "")
LOOM = """\
loom: mine
supply: {volts: 12, earthed: negative}
conditions: {ignition: ["off", "on", start]}
zones: {dash: {title: dashboard}}
places:
  dash.wiper-switch: {part: wiper-switch-one-speed, zone: dash, title: "wiper switch, dash"}
"""
JOB = "job: mine\nloom: loom.yaml\nswaps: [{at: dash.wiper-switch, fit: wiper-switch-two-speed}]\n"
SHEET, BOOK, STRINGS = "xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/sharedStrings.xml"


def csv(*rows: tuple[str, ...], head: tuple[str, ...] = HEAD) -> bytes:
    quoted = [[f'"{cell}"' if re.search('[,;"]', cell) else cell for cell in row] for row in (head, *rows)]
    return "\n".join(",".join(row) for row in quoted).encode()


def with_cell(column: str, text: str) -> bytes:
    """A good row, and one with this text in one column."""
    bad = tuple(text if name == column else cell for name, cell in zip(HEAD, GOOD, strict=True))
    bad = ("W2", *bad[1:]) if column != "wire" else bad
    return csv(("W0", *GOOD[1:4], "wiper switch / M", *GOOD[5:]), bad)


def book(
    fill: Callable[[Any, Any], None] | None = None, *, rows: tuple[tuple[Any, ...], ...] = (HEAD, GOOD)
) -> bytes:
    content = BytesIO()
    workbook = Workbook(content, {"in_memory": True})
    sheet = workbook.add_worksheet("Wires")
    for number, row in enumerate(rows):
        sheet.write_row(number, 0, row)
    if fill:
        fill(sheet, workbook)
    workbook.close()
    return content.getvalue()


def bad_book(column: str, value: Any) -> bytes:
    """A workbook whose one row has this value in one column."""
    row = tuple(value if name == column else cell for name, cell in zip(HEAD, GOOD, strict=True))
    return book(rows=(HEAD, row))


def changed(member: str, change: Callable[[bytes], bytes], compression: int = ZIP_DEFLATED) -> bytes:
    """The good workbook with one member changed, or added to."""
    packed = BytesIO()
    with ZipFile(BytesIO(book())) as old, ZipFile(packed, "w", compression) as new:
        for name in dict.fromkeys([*old.namelist(), member]):
            data = old.read(name) if name in old.namelist() else b""
            new.writestr(name, change(data) if name == member else data)
    return packed.getvalue()


def cells(xml: str) -> bytes:
    return changed(SHEET, lambda data: data.replace(b"</sheetData>", f"{xml}</sheetData>".encode()))


def lying(claimed: int) -> bytes:
    """A workbook that says it unpacks to less than it does."""
    size = len(ZipFile(BytesIO(book())).read(SHEET)) + 2_000_000
    packed = changed(SHEET, lambda data: data + b" " * 2_000_000)
    return packed.replace(size.to_bytes(4, "little"), claimed.to_bytes(4, "little"))


def encrypted() -> bytes:
    """A workbook whose members say that they have a password."""
    content = bytearray(book())
    for signature, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = content.find(signature)
        while at >= 0:
            content[at + offset] |= 1
            at = content.find(signature, at + 4)
    return bytes(content)


def formula(sheet: Any, _: Any) -> None:
    sheet.write_formula(1, 1, "=A1", None, "")


def error(sheet: Any, _: Any) -> None:
    sheet.write_formula(1, 2, "=1/0", None, "#DIV/0!")


def merged(sheet: Any, _: Any) -> None:
    sheet.merge_range(1, 4, 1, 5, "wiper switch / B")


def dated(sheet: Any, workbook: Any) -> None:
    sheet.write_number(1, 5, 19_725, workbook.add_format({"num_format": "d/m/yy"}))


def hidden(sheet: Any, workbook: Any) -> None:
    workbook.add_worksheet("Other").write(0, 0, "nothing")
    workbook.worksheets()[1].activate()
    sheet.hide()


def twice(_: Any, workbook: Any) -> None:
    other = workbook.add_worksheet("Copy")
    for number, row in enumerate((HEAD, GOOD)):
        other.write_row(number, 0, row)


LONG = "9" * 400
# By column, with bars between.
BAD_CELLS = {
    "wire": f"W 1|-W1|W/1|W1:2|{LONG}|W0|=1+1|\u00fc1|\u202eW1",
    "colour": f"|GR|B|BL|P|tanned|balck|14|red/white/blue|red, blue|?|red;|; red; blue|BK/XX|GN/|red then"
    f"|#ff0000|{LONG}|green and yellow|=RED()|red!|red and|BK/|/|ditto",
    "mm2": f"|0|-1|1e9|nan|inf|1,500|AWG 99|AWG|14/99|0/0.3|121|1.5;0.75|thick|1.5 kg"
    f"|1/0|1.5.2|{LONG}|1.5;|1.5 mm",
    "metres": f"|0|-1|61|1e3|nan|1,500|3 4|6 in 2 ft|80 kg|long|1/0 m|{LONG}|0.8;0.9|0.8;|1 m 20|ca.",
    "from": "|nowhere / 1|wiper switch|wiper switch / Z|:|/|wiper switch /|dash.wiper-switch:"
    "|earth in the attic|earth:attic|feed:zz|feed:|always live, fuse|always live, fuse 0 A|live with the moon"
    f"|live with lights|live with ignition at run|live|joint:|(seen)|{LONG}|feed:a:b, always live",
    "to": "|nowhere|earth / attic|live with accessories at dusk|B|unknown place|loose (sure)|loose (spare x)",
    "known": "maybe|yes|seen; measured|1",
    "fittings": "blade|blade-7|ring|M7 ring|thing|bullet; bullet; bullet|push-on",
    "bundle": "a:b|a/b|:",
}
ENTITIES = b'<!DOCTYPE a [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><worksheet>&b;</worksheet>'
MERGED = b"</sheetData><mergeCells>" + b'<mergeCell ref="A1:XFD1048576"/>' * 9 + b"</mergeCells>"
LINKS = "xl/_rels/workbook.xml.rels"
TEXTS = {
    "empty": b"",
    "only a mark": codecs.BOM_UTF8,
    "only blanks": b"  \n\n , , \n",
    "only headings": csv(),
    "no headings": csv(GOOD, head=("a", "b", "c", "d", "e", "f", "g", "h", "i")),
    "a word": b"wires",
    "one column missing": b"wire,colour,mm2,metres,from\nW1,red,1,1,loose\n",
    "a heading misspelt": b"wire,coluor,mm2,metres,from,to\nW1,red,1,1,loose,loose\n",
    "a heading twice": b"wire,colour,color,mm2,metres,from,to\nW1,red,red,1,1,loose,loose\n",
    "two lengths": b"colour,mm2,metres,length cm,from,to\nred,1,1,100,loose,loose\n",
    "too many cells": csv((*GOOD, "more")),
    "an open quote": csv(GOOD) + b'\nW2,"red,1,1,loose,loose\n',
    "a quote in the middle": csv(GOOD) + b'\nW2,"r"ed,1,1,loose,loose\n',
    "rows swallowed by quotes": csv(GOOD) + b'\nW2,",1,1,loose,loose\nW3,",1,1,loose,loose\n',
    "null bytes": csv(GOOD) + b"\0\0",
    "UTF-32": codecs.BOM_UTF32_LE + csv(GOOD).decode().encode("utf-32-le"),
    "half UTF-16": codecs.BOM_UTF16_LE + csv(GOOD).decode().encode("utf-16-le")[:-1],
    "no known encoding": csv(GOOD).replace(b"red", b"r\x81\x8dd"),
    "a control character": csv(GOOD).replace(b"red", b"r\x07d"),
    "a direction mark": csv(GOOD).replace(b"red", "r\u202eed".encode()),
    "a second mark": codecs.BOM_UTF8 + csv(GOOD).replace(b"red", codecs.BOM_UTF8 + b"red"),
    "a PDF": b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n",
    "a picture": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0",
    "YAML": LOOM.encode(),
    "JSON": b'{"wires": [{"wire": "W1"}]}',
    "HTML": b"<html><table><tr><td>wire</td></tr></table></html>",
    "a workbook": book(),
    "too many rows": csv(GOOD) + b"\n" + b"W,red,1,1,loose,loose\n" * 5001,
    "too many columns": b"wire," * 200,
    "too large": csv(GOOD) + b"\n" + b"x" * (4 * 1024 * 1024),
    "one endless line": b"wire,colour,mm2,metres,from,to " + b"x" * 3_000_000,
    "two rows of one name": csv(GOOD, GOOD),
    "two feeds of the same words": csv(*((n, *GOOD[1:4], "always live", *GOOD[5:]) for n in ("W1", "W2"))),
    "codes of two kinds": csv(*((code, code, *GOOD[2:4], "loose", *GOOD[5:]) for code in ("GY", "UW"))),
    "a terminal too full": csv(*((f"W{n}", *GOOD[1:4], "wiper switch / M", *GOOD[5:]) for n in range(3))),
    "legs that do not agree": csv(("W1", "red; blue; black", *GOOD[2:])),
}  # fmt: skip
BOOKS = {
    "empty": b"",
    "text": csv(GOOD),
    "an old workbook": bytes.fromhex("D0CF11E0A1B11AE1") + b"\0" * 2000,
    "a zip of nothing": b"PK\x05\x06" + b"\0" * 18,
    "a password": encrypted(),
    "another compression": changed(SHEET, lambda data: data, ZIP_BZIP2)[:-400],
    "definitions in a sheet": changed(SHEET, lambda _: ENTITIES),
    "definitions in the book": changed(BOOK, lambda _: ENTITIES),
    "definitions in the texts": changed(STRINGS, lambda _: ENTITIES),
    "a zip bomb": changed(SHEET, lambda data: data + b" " * 40_000_000),
    "a zip bomb in the texts": changed(STRINGS, lambda data: data + b" " * 40_000_000),
    "a lie about its size": lying(100),
    "a lie of nothing": lying(0),
    "a far row": cells('<row r="1048576"><c r="A1048576"><v>1</v></c></row>'),
    "a far column": cells('<row r="2"><c r="XFD2"><v>1</v></c></row>'),
    "cells without end": cells(f"<row>{'<c><v>1</v></c>' * 5000}</row>"),
    "rows without end": cells("<row><c><v>1</v></c></row>" * 6000),
    "a text that is not there": cells('<row r="3"><c r="A3" t="s"><v>99999</v></c></row>'),
    "a text number that is none": cells('<row r="3"><c r="A3" t="s"><v>x</v></c></row>'),
    "deep": changed(SHEET, lambda _: b"<a>" * 200_000),
    "deep and closed in the book": changed(BOOK, lambda _: b"<a>" * 60_000 + b"</a>" * 60_000),
    "no book": changed(BOOK, lambda _: b""),
    "no sheet in the book": changed(BOOK, lambda data: re.sub(rb"<sheets>.*</sheets>", b"<sheets/>", data)),
    "a sheet that is not there": changed(LINKS, lambda data: data.replace(b"sheet1", b"sheet9")),
    "an unknown encoding of a sheet": changed(SHEET, lambda data: data.replace(b"UTF-8", b"UUF-8")),
    "an unknown encoding of the book": changed(BOOK, lambda data: data.replace(b"UTF-8", b"UTF-7")),
    "no links": changed(LINKS, lambda _: b"<Relationships/>"),
    "sheet not XML": changed(SHEET, lambda _: b"wire,colour"),
    "sheet cut off": changed(SHEET, lambda data: data[:-30]),
    "texts cut off": changed(STRINGS, lambda data: data[:-30]),
    "only hidden": book(hidden),
    "two that fit": book(twice),
    "a formula not computed": book(formula),
    "an error": book(error),
    "a date": book(dated),
    "merged across": book(merged),
    "merged over one another": changed(SHEET, lambda data: data.replace(b"</sheetData>", MERGED)),
    "one long text in many cells": book(rows=(HEAD, *(("W", "x" * 32_000) for _ in range(300)))),
    "only headings": book(rows=(HEAD,)),
    "no headings": book(rows=(GOOD,)),
    **{f"cut off after {n}": book()[: len(book()) * n // 24] for n in range(1, 24)},
    **{f"bad mm2 {n}": bad_book("mm2", value) for n, value in enumerate((0, -1, 1e9, 140, True, "thick"))},
    **{f"bad metres {n}": bad_book("metres", value) for n, value in enumerate((0, -1, 61, 1e300, "1,500"))},
    **{f"bad colour {n}": bad_book("colour", value) for n, value in enumerate((14, 0.5, True, "GR"))},
}  # fmt: skip
CASES = [
    *(pytest.param(content, "wires.csv", id=f"text: {name}") for name, content in TEXTS.items()),
    *(pytest.param(content, "wires.xlsx", id=f"workbook: {name}") for name, content in BOOKS.items()),
    *(
        pytest.param(with_cell(column, text), "wires.csv", id=f"{column}: {text[:30]!r}")
        for column, texts in BAD_CELLS.items()
        for text in texts.split("|")
    ),
]
KITS = {
    "empty": b"",
    "no ends": b"colour,length\nred,45 cm\n",
    "ends not counted": b"colour,length,ends\nred,45 cm,push-ons\n",
    "one end": b"colour,length,ends\nred,45 cm,bullet\n",
    "no unit": b"colour,length,ends\nred,45,two bullets\n",
    "no colour": b"colour,length,ends\n,45 cm,two bullets\n",
    "too many": b"colour,length,ends,qty\nred,45 cm,two bullets,9999\n",
    "no number": b"colour,length,ends,qty\nred,45 cm,two bullets,many\n",
    "a description of one word": b"description\nred\n",
    "a wire list": csv(GOOD),
}
