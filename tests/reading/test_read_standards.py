"""Published tables from catalogue folders: what is read, when, and what is said of a wrong cell."""

import shutil

import pytest
from marked import places_of

import catalogs
import planner.reading.catalogue as reading
from planner.model.catalogue import Catalogue
from planner.problems import FilePlace, InputError
from planner.reading.catalogue import read_catalogue
from planner.reading.checking import check_catalogue
from planner.reading.standards import read_standards

SHIPPED = catalogs.directory()
TABLES = (
    "conductors", "awg", "ampacity", "bundling", "insulation", "fuses", "switch-derating", "drops", "tabs",
)  # fmt: skip


def write(tmp_path, name, text):
    file = tmp_path / "standards" / f"{name}.csv"
    file.parent.mkdir(exist_ok=True)
    file.write_text(text, encoding="utf-8")
    return tmp_path


def fault(tmp_path, name, text):
    """The one fault that is found when a table is replaced: its place in the table and what is said."""
    with pytest.raises(InputError) as error:
        read_standards([SHIPPED, write(tmp_path, name, text)])
    (problem,) = error.value.problems
    assert problem.place.file.endswith(f"standards/{name}.csv")
    return (problem.place.line, problem.place.column), problem


def test_the_shipped_tables_are_read_whole():
    standards = read_standards([SHIPPED])
    for rows in vars(standards).values():
        assert rows and all(row.source and row.basis for row in rows)


def test_tables_are_read_only_when_asked_for_and_only_once(monkeypatch):
    asked = []
    monkeypatch.setattr(reading, "read_standards", lambda d: asked.append(d) or read_standards(d))
    catalogue = read_catalogue([SHIPPED])
    assert asked == []
    assert catalogue.standards is catalogue.standards
    assert len(asked) == 1


def test_a_catalogue_put_together_by_hand_says_that_it_has_no_tables():
    with pytest.raises(InputError, match="put together without published tables"):
        _ = Catalogue({}, {}, {}, {}, {}, {}).standards


def test_the_last_folder_that_has_a_table_gives_it_whole(tmp_path):
    own = write(tmp_path, "bundling", "loaded,factor,source,basis\n3,0.5,ours,measured\n")
    standards = read_catalogue([SHIPPED, own]).standards
    assert [(b.loaded, b.factor, b.basis) for b in standards.bundlings] == [(3, 0.5, "measured")]
    assert standards.fuses == read_standards([SHIPPED]).fuses


@pytest.mark.parametrize("name", TABLES)
def test_a_missing_table_is_named_with_its_columns(tmp_path, name):
    shutil.copytree(SHIPPED / "standards", tmp_path / "standards")
    (tmp_path / "standards" / f"{name}.csv").unlink()
    with pytest.raises(InputError, match="no catalogue folder holds this published table") as error:
        read_standards([tmp_path])
    (problem,) = error.value.problems
    assert problem.place == FilePlace(f"standards/{name}.csv")
    assert problem.hint is not None and "source, basis" in problem.hint


BUNDLING = "loaded,factor,source,basis\n"
FUSES = "row,type,rating_a,percent,max_s,max_drop_v,source,basis\n"
DROPS = "circuit,system_v,limit_v,limit_percent,scope,source,basis\n"
ABOVE_0 = "must be a number above 0"
WRONG = [
    ("bundling", BUNDLING + "1,1,x,x\n2,big,x,x\n", (3, 3), f"factor {ABOVE_0}, got 'big'"),
    ("bundling", BUNDLING + "1,0,x,x\n", (2, 3), f"factor {ABOVE_0}, got '0'"),
    ("bundling", BUNDLING + "1,nan,x,x\n", (2, 3), f"factor {ABOVE_0}, got 'nan'"),
    ("bundling", BUNDLING + "1.5,1,x,x\n", (2, 1), "loaded must be a whole number above 0, got '1.5'"),
    ("bundling", BUNDLING + "0,1,x,x\n", (2, 1), "loaded must be a whole number above 0, got '0'"),
    ("bundling", BUNDLING + '1,1,"x, y",\n', (2, 12), "basis must be a text, got nothing"),
    ("bundling", BUNDLING + "1,1,x\n", (2, 1), "must have 4 cells as the first line has, got 3"),
    ("bundling", BUNDLING + '1,1,"x,x\n', (2, 1), "is no row of a CSV file"),
    ("bundling", BUNDLING + "\n", (2, 1), "must have 4 cells as the first line has, got 0"),
    ("bundling", BUNDLING, (0, 0), "holds no row"),
    ("bundling", "loaded,factr,source,basis\n1,1,x,x\n", (1, 1), "must name the column 'factor' once"),
    ("bundling", "loaded,factor,factor,source,basis\n1,1,1,x,x\n", (1, 1), "column 'factor' once"),
    ("bundling", BUNDLING + "1,1,x\x07,x\n", (2, 6), "the invisible character U+0007"),
    ("drops", DROPS + "x,12,-1,,x,x,x\n", (2, 6), "limit_v must be a number of 0 or more, or nothing"),
    ("fuses", FUSES + "limit,x,5-2,,,,x,x\n", (2, 9), "rating_a must be a number, two with a dash"),
    ("fuses", FUSES + "limit,x,1-2-3,,,,x,x\n", (2, 9), "rating_a must be a number, two with a dash"),
    ("fuses", FUSES + "limit,x,,,,,x,x\n", (2, 9), "rating_a must be a number, two with a dash between, or"),
    ("drops", DROPS + "x,all,1,,x,x,x\n", (2, 3), "system_v must be a number above 0 or 'any', got 'all'"),
]


@pytest.mark.parametrize(("name", "text", "place", "message"), WRONG)
def test_a_wrong_cell_is_shown_with_its_place(tmp_path, name, text, place, message):
    found, problem = fault(tmp_path, name, text)
    assert found == place
    assert message in problem.message


def test_a_column_with_a_slip_in_its_name_is_suggested(tmp_path):
    _, problem = fault(tmp_path, "bundling", "loaded,factr,source,basis\n1,1,x,x\n")
    assert problem.hint == "factr"


def test_the_faults_of_all_tables_come_together(tmp_path):
    write(tmp_path, "bundling", BUNDLING + "1,x,x,x\n2,y,x,x\n")
    write(tmp_path, "tabs", "")
    with pytest.raises(InputError) as error:
        read_standards([SHIPPED, tmp_path])
    assert [p.place.line for p in error.value.problems if "bundling" in p.place.file] == [2, 3]
    assert any("tabs.csv" in p.place.file for p in error.value.problems)


def test_checking_a_catalogue_reads_its_tables_too(tmp_path):
    own = write(tmp_path, "bundling", BUNDLING + "1,x,x,x\n")
    with pytest.raises(InputError, match=ABOVE_0) as error:
        check_catalogue([SHIPPED, own])
    assert places_of(error.value) == [(2, 3)]


def test_a_catalogue_without_tables_is_sound_until_they_are_asked_for(catalogue_at):
    folder, _ = catalogue_at()
    assert check_catalogue([folder]) == read_catalogue([folder])
    with pytest.raises(InputError, match="no catalogue folder holds this published table"):
        _ = read_catalogue([folder]).standards
