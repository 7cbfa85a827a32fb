"""Workbooks: only values are read, only what was measured is unpacked, and no cell is empty by mistake."""

from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

import pytest
from workbooks import changed, rows, saved, workbook

from planner.problems import InputError
from planner.reading.headings import Column
from planner.reading.people_tables import PeopleTable, read_table

COLUMNS = (Column("wire", required=True), Column("colour", required=True), Column("to"))
HEAD = ("wire", "colour", "to")
SHEET = "xl/worksheets/sheet1.xml"


def table(folder: Path, content: bytes) -> PeopleTable:
    return read_table(saved(folder, content), COLUMNS)


def colours(found: PeopleTable) -> list[str]:
    return [row.cells["colour"] for row in found.rows]


def said(found: PeopleTable) -> list[str]:
    return [f"{p.place.line}:{p.place.column} {p.message}" for p in found.problems]


def refusal(folder: Path, content: bytes) -> str:
    with pytest.raises(InputError) as caught:
        table(folder, content)
    return str(caught.value)


def filled(*cells: tuple[int, int, Any]) -> bytes:
    """A list with one good row and more cells, written by the kind of their value."""

    def fill(sheet: Any) -> None:
        rows(HEAD, ("W1", "red", "a"))(sheet)
        for row, column, value in cells:
            sheet.write(row, column, value)

    return workbook(fill)


def test_numbers_are_read_as_they_are_shown(tmp_path: Path) -> None:
    found = table(tmp_path, filled((2, 0, 53.0), (2, 1, 0.1 + 0.2), (2, 2, 1.5), (3, 0, True)))
    assert [list(row.cells.values()) for row in found.rows[1:]] == [["53", "0.3", "1.5"], ["TRUE", "", ""]]


def test_what_became_a_date_is_asked(tmp_path: Path) -> None:
    def fill(sheet: Any) -> None:
        rows(HEAD, ("W1", "red", "a"), ("W2", "red"))(sheet)
        sheet.write_datetime(2, 2, datetime(1954, 1, 1), sheet.as_date)

    content = BytesIO()
    from xlsxwriter import Workbook  # noqa: PLC0415  this test alone needs a format

    book = Workbook(content, {"in_memory": True})
    sheet = book.add_worksheet()
    sheet.as_date = book.add_format({"num_format": "d/m"})
    fill(sheet)
    book.close()
    found = table(tmp_path, content.getvalue())
    assert said(found) == [
        "3:3 to: holds a date or a time, which the spreadsheet may have made of what was typed"
    ]
    assert colours(found) == ["red"]


def test_a_formula_is_read_as_the_value_it_holds(tmp_path: Path) -> None:
    def fill(sheet: Any) -> None:
        rows(HEAD, ("W1", "red"), ("W2",), ("W3",), ("W4",))(sheet)
        sheet.write_formula(2, 1, '="bl"&"ue"', None, "blue")
        sheet.write_formula(3, 1, "=A1", None, "")
        sheet.write_formula(4, 1, "=1/0", None, "#DIV/0!")

    found = table(tmp_path, workbook(fill))
    assert colours(found) == ["red", "blue"]
    assert said(found) == [
        "4:2 colour: holds a formula whose value is not stored in the file",
        "5:2 colour: holds an error of a formula",
    ]


def test_a_cell_whose_text_the_file_does_not_have_is_told(tmp_path: Path) -> None:
    texts = ((3, '<c r="B3" t="s"><v>x</v></c>'), (4, '<c r="B4" t="s"/>'))
    names = {row: f'<c r="A{row}" t="inlineStr"><is><t>W{row}</t></is></c>' for row, _ in texts}
    added = "".join(f'<row r="{row}">{names[row]}{cell}</row>' for row, cell in texts)
    end = b"</sheetData>"
    book = workbook(rows(HEAD, ("W1", "red")))
    found = table(tmp_path, changed(book, {SHEET: lambda data: data.replace(end, added.encode() + end)}))
    assert said(found) == ["3:2 colour: refers to a text that the file does not have"]
    assert colours(found) == ["red", ""]


def test_a_value_merged_down_counts_in_each_row_and_one_merged_across_is_asked(tmp_path: Path) -> None:
    def fill(sheet: Any) -> None:
        rows(HEAD, ("W1",), ("W2",), ("W3", "red"), ("W4",))(sheet)
        sheet.merge_range(1, 1, 2, 1, "blue")
        sheet.merge_range(4, 1, 4, 2, "both")

    found = table(tmp_path, workbook(fill))
    assert colours(found) == ["blue", "blue", "red"]
    assert [line.partition(" ")[0] for line in said(found)] == ["5:2", "5:3"]


def test_invisible_characters_are_refused_as_in_text(tmp_path: Path) -> None:
    assert said(table(tmp_path, filled((2, 0, "W2"), (2, 1, "re\u202ed")))) == [
        "3:2 colour: the invisible character U+202E is not allowed"
    ]


def test_macros_and_pictures_are_not_looked_at(tmp_path: Path) -> None:
    content = changed(
        filled(), {"xl/vbaProject.bin": lambda _: b"\xd0\xcf macro", "xl/media/a.png": lambda _: b"x"}
    )
    assert colours(read_table(saved(tmp_path, content, "list.xlsm"), COLUMNS)) == ["red"]


def test_hidden_sheets_are_not_read_and_two_that_fit_are_asked(tmp_path: Path) -> None:
    def hidden(sheet: Any) -> None:
        rows(HEAD, ("W9", "pink"))(sheet)
        sheet.hide()

    good = rows(HEAD, ("W1", "red"))
    assert colours(table(tmp_path, workbook(rows(("some", "notes")), Wires=good, Old=hidden))) == ["red"]
    assert "2 sheets have the headings: 'List' or 'Wires'" in refusal(tmp_path, workbook(good, Wires=good))


def test_cells_far_out_are_refused_unless_they_are_empty(tmp_path: Path) -> None:
    assert "list.xlsx:5001:1: a cell beyond row 5000" in refusal(tmp_path, filled((5000, 0, "x")))
    assert "list.xlsx:2:65: a cell beyond row 5000" in refusal(tmp_path, filled((1, 64, "x")))
    far = b'<row r="1048576"><c r="XFD1048576" s="1"/></row></sheetData>'
    blank = changed(filled(), {SHEET: lambda xml: xml.replace(b"</sheetData>", far)})
    assert colours(table(tmp_path, blank)) == ["red"]


def test_what_unpacks_to_too_much_is_refused_whatever_it_says_of_itself(tmp_path: Path) -> None:
    bomb = changed(filled(), {SHEET: lambda xml: xml + b" " * (17 * 1024 * 1024)})
    assert "unpacks to more than 16 MB" in refusal(tmp_path, bomb)
    size = (17 * 1024 * 1024 + len(ZipFile(BytesIO(filled())).read(SHEET))).to_bytes(4, "little")
    assert bomb.count(size) == 2
    assert "cannot be read as a workbook" in refusal(
        tmp_path, bomb.replace(size, (100).to_bytes(4, "little"))
    )


def test_one_long_text_in_many_cells_is_refused(tmp_path: Path) -> None:
    content = workbook(rows(HEAD, *(("W", "x" * 30_000, "a") for _ in range(200))))
    assert "holds more than 4 million characters" in refusal(tmp_path, content)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (bytes.fromhex("D0CF11E0A1B11AE1") + b"\0" * 600, "of an old kind or one with a password"),
        (b"PK\x03\x04 not really", "cannot be read as a workbook"),
        (filled()[: len(filled()) // 2], "cannot be read as a workbook"),
        (changed(filled(), {SHEET: lambda xml: xml[:-20]}), "cannot be read as a workbook"),
        (changed(filled(), {SHEET: lambda xml: b"<!DOCTYPE x [<!ENTITY a 'b'>]>" + xml[55:]}), "DOCTYPE"),
        (changed(filled(), {"xl/workbook.xml": lambda _: b""}), "cannot be read as a workbook"),
        (changed(filled(), {f"xl/f{n}.xml": lambda _: b"" for n in range(500)}), "more than 500 files"),
    ],
    ids=["old", "torn zip", "half", "torn sheet", "definitions", "empty book", "many members"],
)
def test_a_damaged_workbook_is_refused(tmp_path: Path, content: bytes, words: str) -> None:
    assert words in refusal(tmp_path, content)


def test_a_zip_file_that_is_no_workbook_is_refused(tmp_path: Path) -> None:
    packed = BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED) as archive:
        archive.writestr("readme.txt", "hello")
    assert "it has no xl/workbook.xml" in refusal(tmp_path, packed.getvalue())
