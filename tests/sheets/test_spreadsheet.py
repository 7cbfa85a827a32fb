"""Tables for spreadsheet programs: read back they say the same, nothing in them is computed, same bytes."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from planner.problems import UsageError
from planner.reading.headings import Column, are_headings
from planner.reading.people_tables import read_table
from planner.sheets.render.spreadsheet import as_csv, as_workbook, write_table

COLUMNS = (Column("a", required=True, lines=True), Column("b", required=True, lines=True))
# What a file of people's may hold; blanks around a text are not kept, nor is a line that says headings again.
TEXT = st.text(
    st.characters(
        min_codepoint=32, max_codepoint=0x2FF, exclude_characters="".join(map(chr, range(0x7F, 0xA0)))
    )
    | st.sampled_from("=+-@'\"\t\n,;#_x"),
    min_size=1,
    max_size=12,
).filter(lambda text: text == text.strip())


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
@given(
    st.lists(
        st.tuples(TEXT.filter(lambda text: not are_headings([text], COLUMNS)), TEXT), min_size=1, max_size=5
    )
)
def test_what_was_written_reads_back_the_same(
    tmp_path_factory: pytest.TempPathFactory, ending: str, rows: list[tuple[str, str]]
) -> None:
    path = tmp_path_factory.mktemp("written") / f"table{ending}"
    write_table(path, ("a", "b"), rows)
    found = read_table(path, COLUMNS)
    assert (found.problems, [tuple(row.cells.values()) for row in found.rows]) == ((), rows)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\tx", "\rx", "'=1", "''-1"])
def test_no_cell_of_a_csv_begins_like_a_formula(text: str) -> None:
    line = as_csv(("a",), [(text,)]).decode("utf-8-sig").split("\r\n", 1)[1]
    assert line.lstrip('"').startswith(f"'{text}")


def test_no_cell_of_a_workbook_is_a_formula_or_a_link(tmp_path: Path) -> None:
    path = tmp_path / "table.xlsx"
    write_table(path, ("a", "b"), [("=1+1", "https://example.org"), ("12", 12.5)])
    values = CalamineWorkbook.from_path(path).get_sheet_by_index(0).to_python()
    assert values[1:] == [["=1+1", "https://example.org"], ["12", 12.5]]


def test_the_same_table_is_the_same_bytes() -> None:
    assert as_workbook({"t": (("a",), [("x",)])}) == as_workbook({"t": (("a",), [("x",)])})


def test_what_is_there_is_not_written_over_unasked(tmp_path: Path) -> None:
    path = tmp_path / "table.csv"
    path.write_text("mine")
    with pytest.raises(UsageError, match="it is there already"):
        write_table(path, ("a",), [("x",)])
    assert path.read_text() == "mine"
    write_table(path, ("a",), [("x",)], overwrite=True)
    assert path.read_bytes() == as_csv(("a",), [("x",)])


@pytest.mark.parametrize("name", ["table.ods", "table", "nowhere/table.csv", "folder.csv"])
def test_what_cannot_be_written_leaves_nothing_behind(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder.csv").mkdir()
    with pytest.raises(UsageError, match="is not written"):
        write_table(tmp_path / name, ("a",), [("x",)], overwrite=True)
    assert [path.name for path in tmp_path.iterdir()] == ["folder.csv"]
