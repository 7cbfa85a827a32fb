"""Tables of a survey that cannot be used: each fault is named at its cell, and nothing is written."""

import re
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from filled_survey import reader_of, survey_of

from planner.commands import NOT_USABLE, main
from planner.problems import InputError
from planner.reading.survey_table import survey_table

JOB = "two-speed-wipers"
HEAD = "part,terminal,wire,colour seen,meter says,fitting,size,note\n"
ROW = "wiper switch,M,,green,12 V with ignition,blade-6.3,1.5 mm2,\n"

# Rows that are wrong in one cell, the column where the cell begins, and what is said of it.
ROWS = {
    "no part": (",M,,green,,,,", 1, "no part is given"),
    "a part that is not asked about": ("radio,M,,green,,,,", 1, "no part of this survey is called 'radio'"),
    "a part misspelt": ("wiper swich,M,,green,,,,", 1, "no part of this survey is called 'wiper swich'"),
    "half a title": ("wiper,M,,green,,,,", 1, "no part of this survey is called 'wiper'"),
    "no terminal": ("wiper switch,,,green,,,,", 14, "no terminal is given"),
    "a terminal of the new part": ("wiper switch,53b,,green,,,,", 14, "has no terminal '53b'"),
    "a terminal that is a number": ("wiper switch,1,,green,,,,", 14, "has no terminal '1'"),
    "a wire that is no number": ("wiper switch,M,left,green,,,,", 16, "wire must be a number"),
    "wire nought": ("wiper switch,M,0,green,,,,", 16, "wire must be a number"),
    "a wire below nought": ("wiper switch,M,-1,green,,,,", 16, "wire must be a number"),
    "wire 1000": ("wiper switch,M,1000,green,,,,", 16, "wire must be a number"),
    "other digits": ("wiper switch,M,\N{ARABIC-INDIC DIGIT THREE},green,,,,", 16, "wire must be a number"),
    "a colour that is none": ("wiper switch,M,,greenish-mud,,,,", 17, "no colour is called"),
    "a colour of two codes": ("wiper switch,M,,GR,,,,", 17, "may be green/red or grey"),
    "one letter": ("wiper switch,M,,b,,,,", 17, "may be black or blue"),
    "three colours": ("wiper switch,M,,red green blue,,,,", 17, "names 3 colours"),
    "a number for a colour": ("wiper switch,M,,12,,,,", 17, "names no colour"),
    "a reading for a colour": ("wiper switch,M,,12 V always,,,,", 17, "colour"),
    "volts without when": ("wiper switch,M,,green,12 V,,,", 23, "does not say when"),
    "volts of another vehicle": ("wiper switch,M,,green,6 V always,,,", 23, "this vehicle has 12 V"),
    "volts of a sparking plug": ("wiper switch,M,,green,12000 V always,,,", 23, "this vehicle has 12 V"),
    "volts between": ("wiper switch,M,,green,5 V with ignition,,,", 23, "this vehicle has 12 V"),
    "a bare number": ("wiper switch,M,,green,12,,,", 23, "does not say of what"),
    "ohms to nowhere": ("wiper switch,M,,green,0 ohms,,,", 23, "does not say to what"),
    "a beep to nowhere": ("wiper switch,M,,green,beeps,,,", 23, "does not say to what"),
    "a beep to no part": ("wiper switch,M,,green,beeps to horn 1,,,", 23, "no terminal is called"),
    "a beep to no terminal": ("wiper switch,M,,green,beeps to motor 99,,,", 23, "no terminal is called"),
    "a beep to two": ("wiper switch,M,,green,beeps to wiper M,,,", 23, "may mean 2 terminals"),
    "ohms too many for a wire": ("wiper switch,M,,green,80 ohms to motor M,,,", 23, "no more than 2 ohms"),
    "a story": ("wiper switch,M,,green,I tried but the dog barked,,,", 23, "is no reading"),
    "an emoji": ("wiper switch,M,,green,\N{HIGH VOLTAGE SIGN},,,", 23, "is no reading"),
    "a formula": ("wiper switch,M,,green,=SUM(A1:A9),,,", 23, "is no reading"),
    "a fitting that is none": ("wiper switch,M,,green,,velcro,,", 24, "is no fitting"),
    "a fitting without its size": ("wiper switch,M,,green,,ring,,", 24, "does not say its size"),
    "a size that is none": ("wiper switch,M,,green,,,thick,", 25, "is no wire size"),
    "a size of nought": ("wiper switch,M,,green,,,0 mm2,", 25, "above 0"),
    "a size like a drainpipe": ("wiper switch,M,,green,,,500 mm2,", 25, "at most 120"),
    "none for a reading": ("wiper switch,M,,green,none,,,", 23, "may say that no wire is there"),
    "no wire and a colour": ("wiper switch,M,,green,no wire,,,", 17, "no wire is there, and yet"),
    "a second wire without a colour": ("wiper switch,M,2,,12 V always,,,", 18, "needs its colour"),
    "a mounting with a colour": ("wiper motor,mounting,,green,,,,", 23, "a mounting has no colour"),
    "a mounting that is live": ("wiper motor,mounting,,,12 V always,,,", 24, "a mounting is earthed or not"),
    "more cells than headings": ("wiper switch,M,,green,,,,,,,extra", 29, "more cells than the 8 headings"),
    "two lines in a cell": ('wiper switch,M,,"green\nred",,,,', 17, "more than one line"),
    "a row twice": ("wiper switch,M,1,green,,,,\nwiper switch,M,1,red,,,,", 14, "has two rows"),
}  # fmt: skip

# Files that are wrong as a whole, by their content, and what is said of them.
FILES: dict[str, tuple[str, bytes, str]] = {
    "an empty file": ("t.csv", b"", "the file is empty"),
    "blanks only": ("t.csv", b" \n \n", "holds no row"),
    "no heading that is known": ("t.csv", b"a,b,c\n1,2,3\n", "no heading says 'part'"),
    "no terminal column": ("t.csv", b"part,colour\nwiper switch,green\n", "no heading says 'terminal'"),
    "a heading misspelt": ("t.csv", b"part,terminl,colour\nwiper switch,M,green\n", "'terminl' is not known"),
    "two colour columns": ("t.csv", b"part,terminal,colour,color\nx,M,green,red\n", "two headings mean"),
    "headings and nothing else": ("t.csv", HEAD.encode(), "no row stands below"),
    "a picture": ("t.csv", b"\x89PNG\r\n\x1a\n\x00\x00", "t.csv"),
    "a workbook by another name": ("t.csv", b"PK\x03\x04rubbish", "is a workbook"),
    "a workbook cut short": ("t.xlsx", b"PK\x03\x04rubbish", "t.xlsx"),
    "a text called a workbook": ("t.xlsx", HEAD.encode(), "t.xlsx"),
    "a file of another kind": ("t.pdf", b"%PDF-1.7", "is no table by its name"),
    "UTF-16 cut in half": ("t.csv", (HEAD + ROW).encode("utf-16")[:-1], "t.csv"),
    "an open quote": ("t.csv", HEAD.encode() + b'wiper switch,M,,"green,,,,\n', "t.csv"),
    "signs that no file may hold": ("t.csv", (HEAD + ROW).replace("green", "gr\x00een").encode(), "t.csv"),
    "nine million cells": ("t.csv", HEAD.encode() + b",,,,,,,,,,,,,,,\n" * 600_000, "t.csv"),
}


@pytest.fixture(autouse=True)
def _in_an_empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.chdir(tmp_path)
    yield


@pytest.mark.parametrize("row", ROWS)
def test_a_bad_row_is_named_by_row_and_column(row: str) -> None:
    text, column, said = ROWS[row]
    Path("t.csv").write_text(HEAD + text + "\n" + "wiper motor,S,,white,,,,\n", encoding="utf-8")
    answers, problems = reader_of(survey_of(JOB)).read(survey_table(Path("t.csv")))
    line = 2 if row != "a row twice" else 3
    pattern = rf"^t\.csv:{line}:{column}: .*{re.escape(said)}"
    told = "\n".join(line for problem in problems for line in problem.lines())
    assert re.search(pattern, told, re.MULTILINE), told
    assert answers.by_key["scuttle.wiper-motor", "S", 1].colour == "WH"  # the row below is read all the same


def test_a_part_may_be_named_in_american() -> None:
    Path("t.csv").write_text("part,terminal,colour\ndome light,B,red\n", encoding="utf-8")
    answers, problems = reader_of(survey_of("interior-lamp-without-earth")).read(survey_table(Path("t.csv")))
    assert problems == () and answers.by_key["cab.interior-lamp", "B", 1].colour == "RD"


def test_bad_rows_end_with_status_2_and_nothing_is_written(capsys: pytest.CaptureFixture[str]) -> None:
    Path("t.csv").write_text(HEAD + "".join(f"{text}\n" for text, _, _ in ROWS.values()), encoding="utf-8")
    assert main(["survey", JOB, "--read", "t.csv"]) == NOT_USABLE
    both = capsys.readouterr()
    assert both.out == "" and "Traceback" not in both.err
    assert both.err.count("\nt.csv:") >= len(ROWS) - 1
    assert [path.name for path in Path().iterdir()] == ["t.csv"]


@pytest.mark.parametrize("file", FILES)
def test_a_bad_file_is_named_and_nothing_is_written(file: str, capsys: pytest.CaptureFixture[str]) -> None:
    name, content, said = FILES[file]
    Path(name).write_bytes(content)
    assert main(["survey", JOB, "--read", name]) == NOT_USABLE
    both = capsys.readouterr()
    assert both.out == "" and said in both.err and name in both.err and "Traceback" not in both.err
    assert [path.name for path in Path().iterdir()] == [name]


def test_a_workbook_that_unpacks_to_a_mountain_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with zipfile.ZipFile("t.xlsx", "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("xl/worksheets/sheet1.xml", b"0" * 60_000_000)
    assert main(["survey", JOB, "--read", "t.xlsx"]) == NOT_USABLE
    assert "t.xlsx" in capsys.readouterr().err


def test_all_faults_are_said_at_once_and_what_is_good_is_kept() -> None:
    bad = "".join(f"{text}\n" for text, _, _ in list(ROWS.values())[:20])
    Path("t.csv").write_text(HEAD + ROW + bad, encoding="utf-8")
    reader = reader_of(survey_of(JOB))
    answers, problems = reader.read(survey_table(Path("t.csv")))
    assert len(problems) >= 20
    good = answers.by_key["dash.wiper-switch", "M", 1]
    assert (good.colour, good.fitting, good.mm2) == ("GN", "blade-6.3", 1.5)


def test_a_good_cell_beside_a_bad_one_is_kept() -> None:
    Path("t.csv").write_text(HEAD + "wiper switch,M,,green,a lot,,1.5 mm2,\n", encoding="utf-8")
    answers, problems = reader_of(survey_of(JOB)).read(survey_table(Path("t.csv")))
    assert len(problems) == 1
    answer = answers.by_key["dash.wiper-switch", "M", 1]
    assert (answer.colour, answer.mm2, answer.reading) == ("GN", 1.5, None)


def test_a_file_that_is_not_there_is_said() -> None:
    with pytest.raises(InputError, match="cannot be read"):
        survey_table(Path("missing.csv"))


LENIENT = {
    "semicolons and American headings": "Component;Pin;Color;Measured\n"
    "WIPER SWITCH;m;Green;12 V with ignition\n",
    "tabs, other order": "mark\tplace\treading\twire colour\nM\tdash.wiper-switch\thot with key on\tgrn\n",
    "the whole title and a name above": "my van\n\npart,terminal,colour seen,meter says\n"
    '"wiper switch, dash",M,GREEN,"12,4 V with ignition"\n',
    "carriage returns": "part,terminal,colour,meter\r\nwiper switch,M,green,12 V ignition on\r\n",
}


@pytest.mark.parametrize("text", LENIENT)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_what_people_write_is_read_however_it_is_saved(text: str, encoding: str) -> None:
    Path("t.csv").write_bytes(LENIENT[text].encode(encoding))
    answers, problems = reader_of(survey_of(JOB)).read(survey_table(Path("t.csv")))
    assert problems == ()
    answer = answers.by_key["dash.wiper-switch", "M", 1]
    assert answer.colour == "GN" and answer.reading is not None and answer.reading.when == "ignition"
