"""Tables that people keep: delimiters, encodings, headings, rows, each fault at its cell."""

import codecs
from pathlib import Path

import pytest
from workbooks import rows, saved, workbook

from planner.problems import InputError
from planner.reading.headings import Column
from planner.reading.people_tables import read_table

COLUMNS = (
    Column("wire", required=True),
    Column("colour", also=("color", "wire colour"), required=True),
    Column("length", also=("length mm",)),
    Column("to", many=True, beside=("terminal", "pin")),
    Column("note", lines=True),
)
LINES = "wire,colour,to\r\nW1,black/red,a:1\r\nW2,grün,b:2\r\n"


def cells(path: Path) -> list[list[str]]:
    return [list(row.cells.values()) for row in read_table(path, COLUMNS).rows]


def faults(path: Path) -> list[str]:
    """What is wrong with a table as a whole or with its rows, by line and column."""
    try:
        problems = read_table(path, COLUMNS).problems
    except InputError as error:
        problems = error.problems
    return [f"{p.place.line}:{p.place.column} {p.message}" for p in problems]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\r\n", "\n", "\r"])
def test_delimiter_and_line_ends_are_found(tmp_path: Path, delimiter: str, end: str) -> None:
    path = saved(tmp_path, LINES.replace(",", delimiter).replace("\r\n", end), "list.csv")
    assert cells(path) == [["W1", "black/red", "a:1", "", ""], ["W2", "grün", "b:2", "", ""]]


@pytest.mark.parametrize(
    "content",
    [
        LINES.encode(),
        LINES.encode("utf-8-sig"),
        codecs.BOM_UTF16_LE + LINES.encode("utf-16-le"),
        codecs.BOM_UTF16_BE + LINES.encode("utf-16-be"),
        LINES.encode("utf-16-le"),
        LINES.encode("utf-16-be"),
        LINES.encode("cp1252"),
    ],
    ids=["utf-8", "utf-8 mark", "utf-16-le mark", "utf-16-be mark", "utf-16-le", "utf-16-be", "cp1252"],
)
def test_the_encoding_is_found(tmp_path: Path, content: bytes) -> None:
    assert [row[1] for row in cells(saved(tmp_path, content, "list.csv"))] == ["black/red", "grün"]


def test_a_workbook_reads_as_the_same_text_does(tmp_path: Path) -> None:
    lines = [tuple(line.split(",")) for line in LINES.split()]
    assert cells(saved(tmp_path, workbook(rows(*lines)))) == cells(saved(tmp_path, LINES, "list.csv"))


@pytest.mark.parametrize(
    "heading",
    [
        *("wire colour", "Colour, wire", "WIRE_COLOUR", "Wire-Colour", "wirecolour", " color "),
        *("Cable colour", "Colour of the lead", "colour (faded)"),
    ],
)
def test_headings_are_matched_whatever_their_case_blanks_points_and_order(
    tmp_path: Path, heading: str
) -> None:
    path = saved(tmp_path, f'wire,"{heading}"\nW1,black\n', "list.csv")
    assert cells(path)[0][:2] == ["W1", "black"]
    assert read_table(path, COLUMNS).headings["colour"] == heading.strip()


def test_a_title_above_the_headings_is_passed_over(tmp_path: Path) -> None:
    path = saved(tmp_path, "Wires of my van,,\n,,\nwire,colour\nW1,black\n", "list.csv")
    table = read_table(path, COLUMNS)
    assert [row.cells["wire"] for row in table.rows] == ["W1"]
    assert str(table.rows[0].places["colour"]).endswith("list.csv:4:4")


def test_empty_rows_remarks_and_repeated_headings_are_passed_over(tmp_path: Path) -> None:
    text = "wire,colour\n# write on from here,\n,\nW1,black\nWire,COLOUR\n#2,red\n"
    assert [row[0] for row in cells(saved(tmp_path, text, "list.csv"))] == ["W1", "#2"]


def test_many_columns_are_numbered_in_their_order(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,colour,to,To 2,to\nW1,black,a,b,c\n", "list.csv")
    row = read_table(path, COLUMNS).rows[0]
    assert [row.cells[name] for name in ("to", "to 2", "to 3")] == ["a", "b", "c"]


def test_headings_that_mean_no_column_are_told(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,colour,price\nW1,black,3\n", "list.csv")
    assert read_table(path, COLUMNS).unread == ("price",)


def test_a_column_without_a_heading_that_says_something_is_told(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,,colour,,note\nW1,,black,see page 3,\n", "list.csv")
    assert read_table(path, COLUMNS).unread == ("column 4, which has no heading",)


def test_a_second_line_of_headings_is_passed_over(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,to,,colour\n,Wire,Pin,\nW1,b,3,black\n", "list.csv")
    (row,) = read_table(path, COLUMNS).rows
    assert (row.cells["to"], row.cells["to terminal"]) == ("b", "3")


def test_one_word_alone_is_no_second_line_of_headings(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,to,colour\nwire,,\nW1,b,black\n", "list.csv")
    assert [row.cells["wire"] for row in read_table(path, COLUMNS).rows] == ["wire", "W1"]


@pytest.mark.parametrize("heading", ["", "Terminal", "PIN", '"terminal, the"'])
def test_a_column_beside_another_is_known_by_standing_there(tmp_path: Path, heading: str) -> None:
    path = saved(tmp_path, f"to,{heading},wire,to,{heading},colour\na,1,W1,b,2,black\n", "list.csv")
    table = read_table(path, COLUMNS)
    wanted = {"to": "a", "to terminal": "1", "to 2": "b", "to 2 terminal": "2"}
    assert {name: table.rows[0].cells[name] for name in wanted} == wanted
    assert table.unread == ()


def test_a_column_beside_another_that_says_something_else_is_no_column_of_it(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,to,price,colour\nW1,b,3,black\n", "list.csv")
    table = read_table(path, COLUMNS)
    assert "to terminal" not in table.rows[0].cells and table.unread == ("price",)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("wire,paint\nW1,black\n", "1:1 no heading says 'colour'"),
        ("wire,coluor\nW1,black\n", "1:6 the heading 'coluor' is not known"),
        ("wire,colour,lenght\nW1,black,3\n", "1:13 the heading 'lenght' is not known"),
        ("wire,colour,color\nW1,black,red\n", "1:13 two headings mean 'colour'"),
        ("wire,colour\n", "1:1 no row stands below the headings"),
        ("\n\n", "0:0 holds no row"),
        ("", "0:0 the file is empty"),
    ],
)
def test_a_table_whose_columns_are_not_sure_is_refused(tmp_path: Path, text: str, said: str) -> None:
    assert faults(saved(tmp_path, text, "list.csv")) == [said]


def test_a_row_that_cannot_be_read_is_named_and_the_others_are_kept(tmp_path: Path) -> None:
    text = 'wire,colour\nW1,brown, faded\nW2,"black\nW3,"red"d\nW4,green\n'
    path = saved(tmp_path, text, "list.csv")
    assert faults(path) == [
        "2:10 the row has more cells than the 2 headings",
        "3:4 colour: its quotes do not close",
        "4:4 colour: its quotes do not close",
    ]
    assert [row[0] for row in cells(path)] == ["W4"]


def test_rows_that_stray_quotes_swallow_are_noticed(tmp_path: Path) -> None:
    path = saved(tmp_path, 'wire,colour,to\nW1,",a\nW2,red,b\nW3,",c\n', "list.csv")
    assert faults(path) == ["2:4 colour: the cell holds more than one line"]


def test_a_note_may_have_several_lines_and_places_stay_right(tmp_path: Path) -> None:
    path = saved(tmp_path, 'wire,note,colour\nW1,"one\ntwo, ""three""",red\nW2,,blue\n', "list.csv")
    first, second = read_table(path, COLUMNS).rows
    assert first.cells["note"] == 'one\ntwo, "three"'
    assert [str(row.places["colour"]).rpartition("csv:")[2] for row in (first, second)] == ["3:17", "4:5"]


def test_the_apostrophe_before_what_would_be_computed_is_taken_off(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,colour\n'=1+1,''-x\n'quoted,'\n", "list.csv")
    assert [row[:2] for row in cells(path)] == [["=1+1", "'-x"], ["'quoted", "'"]]


def test_short_rows_end_in_empty_cells_and_empty_cells_beyond_do_not_matter(tmp_path: Path) -> None:
    path = saved(tmp_path, "wire,colour,to\nW1,red\nW2,blue,a,,,\n", "list.csv")
    assert cells(path) == [["W1", "red", "", "", ""], ["W2", "blue", "a", "", ""]]


@pytest.mark.parametrize(
    ("content", "name", "said"),
    [
        (b"wire,colour\n", "list.pdf", "0:0 is no table by its name"),
        (b"wire,colour\nW1,re\x81d\x9d\n", "list.csv", "0:0 is no text in UTF-8, UTF-16 or Windows-1252"),
        (b"wire,colour\nW1,re\x07d\n", "list.csv", "2:6 the invisible character U+0007 is not allowed"),
        (workbook(rows(("wire",))), "list.csv", "0:0 is a workbook, though its name ends in .csv"),
        (b"wire,colour\nW1,red\n", "list.xlsx", "0:0 cannot be read as a workbook: File is not a zip file"),
        (b"x" * (4 * 1024 * 1024 + 1), "list.csv", "0:0 the file is larger than 4 MB"),
        (b"wire,colour\n" + b"W1,red\n" * 5001, "list.csv", "5001:1 more than 5000 rows cannot be read"),
        (b"wire,colour" + b"," * 64, "list.csv", "1:75 more than 64 columns cannot be read"),
        (
            b"wire,colour\nW1," + b"x" * 1001,
            "list.csv",
            "2:4 colour: holds 1001 characters; 1000 can be read",
        ),
    ],
)
def test_a_file_that_is_no_table_is_refused(tmp_path: Path, content: bytes, name: str, said: str) -> None:
    assert faults(saved(tmp_path, content, name)) == [said]


def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    assert faults(tmp_path / "list.csv") == ["0:0 cannot be read: No such file or directory"]
