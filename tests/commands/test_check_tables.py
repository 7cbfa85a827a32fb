"""``loomwright check`` of wire lists, and the writing of one, in a folder of a person's own."""

import json
from pathlib import Path

import pytest

from planner.commands import main

LOOM = """\
loom: mine
supply: {volts: 12, earthed: negative}
conditions: {ignition: ["off", "on", start]}
zones: {dash: {title: dashboard}, bay: {title: engine bay}}
places:
  dash.wiper-switch: {part: wiper-switch-one-speed, zone: dash, title: "wiper switch, dash"}
  scuttle.wiper-motor: {part: wiper-motor-one-speed, zone: bay, title: "wiper motor, scuttle"}
wire_list: wires.csv
"""
JOB = "job: mine\nloom: loom.yaml\nswaps: [{at: dash.wiper-switch, fit: wiper-switch-two-speed}]\n"
WIRES = """\
Wire;Colour;Size (mm2);Length (cm);From;To;Known
41;black with red tracer;1,5;80;live with ignition, fuse 8 A;wiper switch / B;measured
42;yellow;1,5;90;wiper switch / M;wiper motor / M;measured
43;brown or red, faded;1,5;90;wiper switch / S;wiper motor / S;seen
44;orange;1,5;90;wiper motor / P;feed:park, live with ignition;seen
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name, text in {"loom.yaml": LOOM, "job.yaml": JOB, "wires.csv": WIRES}.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_each_row_is_shown_as_it_was_read(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "wires.csv"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert (
        "row 2: wire 41, black/red, 1.5 mm2, 0.8 m, from the feed live with ignition fuse 8 a to B on the "
        "wiper switch, dash; measured" in out
    )
    assert "row 4: wire 43, brown, 1.5 mm2, 0.9 m, from S on the wiper switch, dash" in out
    assert "note: colour as written: brown or red, faded" in out
    assert "feed:park is a feed at the edge: role 15, live with ignition at on or start, no fuse known" in out


def test_a_row_that_cannot_be_read_is_named_and_the_others_are_shown(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "wires.csv").write_text(WIRES.replace(";yellow;", ";GR;"), encoding="utf-8")
    assert main(["check", "wires.csv"]) == 2
    streams = capsys.readouterr()
    assert "Read from wires.csv: 3 wires" in streams.out
    assert streams.err == (
        "wires.csv:3:4: colour: 'GR' may be green/red or grey\n"
        "    try GN/RD or GY, or the code in the heading: colour (British or German or\n"
        "        Japanese)\n"
    )


def test_a_loom_with_holes_is_not_planned(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "wires.csv").write_text(WIRES.replace("wiper motor / M", "wiper / M"), encoding="utf-8")
    assert main(["plan", "job.yaml"]) == 2
    streams = capsys.readouterr()
    assert (streams.out, streams.err.partition("\n")[0]) == (
        "",
        "wires.csv:3:35: to: no place is called 'wiper'",
    )


def test_a_plan_from_a_list_asks_for_the_wire_whose_colour_is_in_doubt(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", "job.yaml", "--json"]) == 1
    plan = json.loads(capsys.readouterr().out)
    assert plan["verdict"] in ("measure", "unsafe")
    assert any("brown" in question["about"] + question["where"] for question in plan["questions"])
    assert "the brown wire (43): colour as written: brown or red, faded" in [
        r["text"] for r in plan["remarks"]
    ]


def test_a_list_is_checked_together_with_its_loom(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "wires.csv").write_text(WIRES.replace("wiper motor / S", "wiper motor / M"), encoding="utf-8")
    assert main(["check", "wires.csv"]) == 2
    assert "scuttle.wiper-motor:M holds 1, and 2 ends are on it" in capsys.readouterr().err


def test_a_list_of_no_loom_is_read_and_says_what_nobody_looked_up(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "loom.yaml").unlink()
    assert main(["check", "wires.csv"]) == 0
    assert "no loom beside this list names it" in capsys.readouterr().out


def test_two_looms_that_name_one_list_are_asked_about(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "other.yaml").write_text(LOOM.replace("mine", "other"), encoding="utf-8")
    assert main(["check", "wires.csv"]) == 2
    assert "2 looms name this list: loom.yaml, other.yaml" in capsys.readouterr().err


def test_json_is_one_document(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "wires.csv", "loom.yaml", "--json"]) == 0
    table, loom = json.loads(capsys.readouterr().out)["checked"]
    assert (table["kind"], table["loom"], loom["file"], loom["kind"]) == (
        "wire list",
        "mine",
        "loom.yaml",
        "loom",
    )
    first = table["wires"][0]
    assert (first["row"], first["colour"], first["mm2"], first["metres"]) == (2, ["BK/RD"], [1.5], [0.8])


@pytest.mark.parametrize("name", ["out.csv", "out.xlsx"])
def test_a_looms_wires_are_written_as_a_list_that_gives_the_same_loom(
    folder: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    assert main(["plan", "job.yaml", "--json"]) == 1
    before = capsys.readouterr().out
    assert main(["check", "loom.yaml", "--wire-list", name]) == 0
    assert "4 wires of loom.yaml" in capsys.readouterr().out
    (folder / "loom.yaml").write_text(LOOM.replace("wires.csv", name), encoding="utf-8")
    assert main(["plan", "job.yaml", "--json"]) == 1
    after = json.loads(capsys.readouterr().out)
    assert after["steps"] == json.loads(before)["steps"]


def test_a_list_is_not_written_over_unasked(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "loom.yaml", "--wire-list", "wires.csv"]) == 2
    assert "wires.csv is not written: it is there already" in capsys.readouterr().err
    assert (folder / "wires.csv").read_text(encoding="utf-8") == WIRES
    assert main(["check", "loom.yaml", "--wire-list", "wires.csv", "--force"]) == 0
    assert main(["check", "wires.csv"]) == 0


@pytest.mark.parametrize("files", [[], ["loom.yaml", "job.yaml"]])
def test_a_list_is_written_of_one_loom(
    folder: Path, capsys: pytest.CaptureFixture[str], files: list[str]
) -> None:
    assert main(["check", *files, "--wire-list", "out.csv"]) == 2
    assert "name its file" in capsys.readouterr().err
