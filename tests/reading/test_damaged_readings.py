"""Tables of readings that cannot be used: exit status 2, the place named, nothing printed or written."""

from pathlib import Path

import pytest
from workbooks import changed, rows, workbook

from planner.commands import NOT_USABLE, main

HEAD = "position,A-B,A-C,B-C\n"
LIST = "position,from,to,reading\n"
WIDE = ",".join(f"t{n}-u{n}" for n in range(70))

# Name of the file; what it holds; the place that must be named after the file's name; what must be said.
TABLES: list[tuple[str, str | bytes, str, str]] = [
    # a reading that says nothing, or more than one thing
    ("a.csv", f"{HEAD}off,perhaps,open,open\n", ":2:5", "'perhaps' is no reading"),
    ("a.csv", f"{HEAD}off,open,-,open\n", ":2:10", "'-' is no reading"),
    ("a.csv", f"{HEAD}off,open,open,—\n", ":2:15", "is no reading"),
    ("a.csv", f"{HEAD}off,-0.2,open,open\n", ":2:5", "'-0.2' is no reading"),
    ("a.csv", f"{HEAD}off,12 V,open,open\n", ":2:5", "not free of voltage"),
    ("a.csv", f"{HEAD}off,13.8V,open,open\n", ":2:5", "not free of voltage"),
    ("a.csv", f'{HEAD}off,"1,500",open,open\n', ":2:5", "may mean 1.500 or 1500"),
    ("a.csv", f"{HEAD}off,about 3,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,3 to 4,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,2A,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,1e3,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,nan,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,>2k,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,0x1F,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,=1+1,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,3.5.2,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,12345678901234567890,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,beeps?,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,beeps open,open,open\n", ":2:5", "is no reading"),
    ("a.csv", f"{HEAD}off,beeps,open,open\non,0.2,0.3,maybe\n", ":3:12", "'maybe' is no reading"),
    ("a.csv", f"{LIST}off,A,B,perhaps\n", ":2:9", "'perhaps' is no reading"),
    ("a.csv", f"{LIST}off,A,B,open\n,A,C,5 W\n", ":3:6", "'5 W' is no reading"),
    ("a.tsv", "position\tA-B\noff\tloud\n", ":2:5", "'loud' is no reading"),
    ("a.csv", "position;A-B\noff;loud\n", ":2:5", "'loud' is no reading"),
    ("a.csv", "position,A-B\r\noff,loud\r\n", ":2:5", "'loud' is no reading"),
    ("a.csv", b"\xef\xbb\xbfposition,A-B\noff,loud\n", ":2:5", "'loud' is no reading"),
    ("a.csv", "position,A-B\noff,laut\n".encode("utf-16"), ":2:5", "'laut' is no reading"),
    ("a.csv", "position,A-B\noff,défaut\n".encode("cp1252"), ":2:5", "is no reading"),
    # terminals
    ("a.csv", "position,A-A\noff,open\n", ":2:5", "both leads are at 'A'"),
    ("a.csv", "position,A-a\noff,open\n", ":2:5", "both leads are at 'A'"),
    ("a.csv", f"{LIST}off,A,A,open\n", ":2:5", "both leads are at 'A'"),
    ("a.csv", f"{LIST}off,,B,open\n", ":2:5", "the terminal must be a short name, got ''"),
    ("a.csv", f"{LIST}off,A,,open\n", ":2:7", "the terminal must be a short name, got ''"),
    ("a.csv", f"{LIST}off,A:1,B,open\n", ":2:5", "the terminal must be a short name"),
    ("a.csv", f"{LIST}off,{'A' * 41},B,open\n", ":2:5", "the terminal must be a short name"),
    ("a.csv", "position,A:1-B\noff,open\n", ":2:5", "the terminal must be a short name"),
    ("a.csv", LIST + "".join(f"off,A,t{n},open\n" for n in range(40)), ":41:", "names 41 terminals"),
    # positions
    ("a.csv", f"{HEAD},open,open,open\n", ":2:1", "position must be a name, got nothing"),
    ("a.csv", f"{HEAD}off,open,,\noff,,open,\n", ":3:1", "position 'off' is given twice"),
    ("a.csv", f"{HEAD}off,open,,\nOFF,,open,\n", ":3:1", "position 'off' is given twice"),
    ("a.csv", f"{HEAD}on:off,open,,\n", ":2:1", "position must be a short name"),
    ("a.csv", f"{HEAD}{'x' * 41},open,,\n", ":2:1", "position must be a short name"),
    ("a.csv", "A-B,A-C\nopen,open\nbeeps,open\n", ":2:1", "no heading says 'position'"),
    ("a.csv", HEAD + "".join(f"p{n},open,,\n" for n in range(31)), ":32:", "names 31 positions"),
    # the table as a whole
    ("a.csv", "", "", "the file is empty"),
    ("a.csv", "\n\n\n", "", "holds no row"),
    ("a.csv", ",,,\n,,,\n", "", "holds no row"),
    ("a.csv", HEAD, ":1:1", "no row stands below the headings"),
    ("a.csv", f"{HEAD}off,,,\non,?,,\n", "", "nothing was read: every reading is empty"),
    ("a.csv", f"{LIST}off,A,B,\n", "", "nothing was read: every reading is empty"),
    ("a.csv", "off,open,beeps\non,beeps,open\n", ":1:1", "is no table of readings"),
    ("a.csv", "wire,colour,from,to\nW1,BK,A,B\n", ":1:1", "is no table of readings"),
    ("a.csv", "position,from,to\noff,A,B\n", ":1:1", "is no table of readings"),
    ("a.csv", "position,from,reading\noff,A,open\n", ":1:1", "is no table of readings"),
    ("a.csv", "position,A-B,reading\noff,open,open\n", ":1:1", "is no table of readings"),
    ("a.csv", "position,A-B,from,to,reading\noff,open,A,B,open\n", ":1:1", "is no table of readings"),
    ("a.csv", "position\noff\n", ":1:1", "is no table of readings"),
    ("a.csv", "position,A-B,A-B\noff,open,beeps\n", ":1:14", "two headings mean 'A-B'"),
    ("a.csv", f"{HEAD}off,open,open,open,open\n", ":2:20", "more cells than the 4 headings"),
    ("a.csv", f"{HEAD}off,\"open,open,open\n", ":2:", "its quotes do not close"),
    ("a.csv", f"position,{WIDE}\noff,open\n", ":", "64"),
    ("a.csv", f"{HEAD}off,{'9' * 1200},open,open\n", ":2:5", "holds 1200 characters"),
    ("a.csv", b"position,A-B\noff,\x00\x00\n", "", ""),
    ("a.csv", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "", ""),
    ("a.csv", b"PK\x03\x04rest", "", "is a workbook, though its name ends in .csv"),
    ("a.csv", b"\xff\xfe\x00\xd8\x00\xd8", "", ""),
    ("a.txt", "what the meter said\n", ":1:1", "no row stands below the headings"),
    ("a.yaml", "position: off\n", "", "is no table by its name"),
    ("a.ods", b"PK\x03\x04", "", "is no table by its name"),
    ("a", f"{HEAD}off,open,open,open\n", "", "is no table by its name"),
    # workbooks
    ("a.xlsx", b"", "", "the file is empty"),
    ("a.xlsx", b"PK\x03\x04 and no more", "", ""),
    ("a.xlsx", f"{HEAD}off,open,open,open\n", "", ""),
    ("a.xlsx", workbook(rows()), "", "holds no row"),
    ("a.xlsx", workbook(rows(("position", "A-B"), ("off", "loud"))), ":2:2", "'loud' is no reading"),
    ("a.xlsx", workbook(rows(("position", "A-B"), ("off", -3))), ":2:2", "'-3' is no reading"),
    ("a.xlsx", workbook(rows(("position", "A-B"), ("off", True))), ":2:2", ""),
    ("a.xlsx", workbook(rows(("x",), ("y",))), ":1:1", "is no table of readings"),
    ("a.xlsx", workbook(rows(("position", "A-B"), ("off", "open"))) [:900], "", ""),
    (
        "a.xlsx",
        workbook(rows(("position", "A-B"), ("off", "open")), More=rows(("position", "A-B"), ("on", "open"))),
        "",
        "2 sheets have the headings",
    ),
    (
        "a.xlsx",
        changed(workbook(rows(("position", "A-B"))), {"xl/worksheets/sheet1.xml": lambda _: b"<broken"}),
        "",
        "",
    ),
]  # fmt: skip


def test_there_are_enough_of_them() -> None:
    assert len({(name, content) for name, content, _, _ in TABLES}) >= 60


@pytest.mark.parametrize(("name", "content", "place", "said"), TABLES, ids=range(len(TABLES)))
def test_a_damaged_table_is_refused_at_its_place(
    name: str, content: str | bytes, place: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / name
    table.write_bytes(content.encode() if isinstance(content, str) else content)
    assert main(["identify", str(table), "--write", str(tmp_path / "mine.yaml")]) == NOT_USABLE
    out, err = (" ".join(text.split()) for text in capsys.readouterr())
    assert out == ""
    assert f"{name}{place}" in err
    assert said in err
    assert "Traceback" not in err
    assert [path.name for path in tmp_path.iterdir()] == [name]


def test_a_table_that_is_not_there_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path in (tmp_path / "none.csv", tmp_path / "none.xlsx"):
        assert main(["identify", str(path)]) == NOT_USABLE
        assert path.name in capsys.readouterr().err
    (tmp_path / "folder.csv").mkdir()
    assert main(["identify", str(tmp_path / "folder.csv")]) == NOT_USABLE
    assert "folder.csv" in capsys.readouterr().err
