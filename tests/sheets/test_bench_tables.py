"""The tables of a bench sheet: the workbook opened again says what the CSV says, and the wires read back."""

import csv
from functools import cache
from io import BytesIO, StringIO
from pathlib import Path

from python_calamine import CalamineWorkbook

from planner.model.bench_sheet import BenchSheet
from planner.model.loom import Wire
from planner.pipeline import open_catalogue
from planner.reading.loom_file import open_wire_list
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench_files import bench_files
from planner.sheets.build.bench_tables import bench_tables

JOB = "two-speed-wipers"


@cache
def bench() -> BenchSheet:
    return sheet_job(JOB, open_catalogue())


def test_the_workbook_opened_again_holds_every_table_cell_by_cell() -> None:
    one = bench()
    (file,) = bench_files(one, ["xlsx"])
    book = CalamineWorkbook.from_filelike(BytesIO(file.content))
    tables = bench_tables(one)
    assert book.sheet_names == [table.name for table in tables] and len(tables) >= 5
    for table in tables:
        rows = book.get_sheet_by_name(table.name).to_python(skip_empty_area=False)
        # A column to be filled in is empty: a workbook has no cells there.
        rows = [[*row, *[""] * (len(table.headings) - len(row))] for row in rows]
        assert rows[0] == list(table.headings)
        # A workbook has numbers of one kind only.
        assert rows[1:] == [[float(c) if not isinstance(c, str) else c for c in row] for row in table.rows]


def test_the_csv_files_say_the_same_as_the_workbook() -> None:
    one = bench()
    files = {file.name.removeprefix(f"{JOB}-"): file.content for file in bench_files(one, ["csv"])}
    for table in bench_tables(one):
        rows = list(csv.reader(StringIO(files[f"{table.name.replace(' ', '-')}.csv"].decode("utf-8-sig"))))
        assert rows[0] == list(table.headings) and len(rows) == len(table.rows) + 1


def test_the_wires_after_read_back_as_wires_by_the_names_on_the_sheet(tmp_path: Path) -> None:
    one = bench()
    file = next(file for file in bench_files(one, ["csv"]) if file.name.endswith("wires-after.csv"))
    path = tmp_path / file.name
    path.write_bytes(file.content)
    found = open_wire_list(path, one.after.model_copy(update={"wires": ()}), open_catalogue())
    named = [w.model_copy(update={"wire": one.wire_names.get(w.wire, w.wire)}) for w in one.after.wires]
    assert found.problems == ()
    assert [Wire.model_validate(row.data) for row in found.rows] == named
    assert "N1" in {wire.wire for wire in named}


def test_every_form_is_the_same_bytes_again() -> None:
    one = bench()
    assert bench_files(one) == bench_files(one)
