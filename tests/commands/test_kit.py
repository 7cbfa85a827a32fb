"""``--kit``: which lead of a table goes where, in a loom that is there and in a plan."""

import io
import json
from pathlib import Path

import pytest

from planner.commands import main

KIT = """\
no,description,qty
A,"orange, 60 cm, 6.3 mm push-on and bullet",
B,"yellow, 92 cm, two push-on ends",
C,"yellow/black, 90 cm, two push-on ends",
D,"orange/yellow, 88 cm, push-on and push-on",
E,"black, 45 cm, three push-on ends",2
"""
STOCK = """\
lead,colour,mm2,length cm,ends
K1,yellow/red,1.5,150,two 6.3 mm push-on
K3,red,2.5,60,two push-on
K4,green,1.5,60,two bullets
"""


@pytest.fixture
def van(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    assert main(["start", "van"]) == 0
    monkeypatch.chdir(tmp_path / "van")
    Path("kit.csv").write_text(KIT)
    Path("stock.csv").write_text(STOCK)
    return tmp_path / "van"


def test_every_lead_is_matched_to_its_wire(van: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "loom.yaml", "--kit", "kit.csv"]) == 1
    out = capsys.readouterr().out
    assert (
        "B (yellow, 0.92 m, two push-on terminals)\n    yellow (W3), 0.9 m, from M on the wiper switch" in out
    )
    assert "  - E (black, 0.45 m, three push-on terminals), 2 of them\n" in out


def test_a_kit_that_is_the_loom_ends_with_0(van: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("kit.csv").write_text(KIT[: KIT.index("E,")])
    capsys.readouterr()
    assert main(["check", "loom.yaml", "--kit", "kit.csv", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [(g["leads"], g["wires"]) for g in found["groups"]] == [
        (["A"], ["W1"]),
        (["B"], ["W3"]),
        (["C"], ["W4"]),
        (["D"], ["W2"]),
    ]


def test_a_tie_is_told(van: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("kit.csv").write_text(KIT + 'F,"yellow, 90 cm, two push-on ends",\n')
    assert main(["check", "loom.yaml", "--kit", "kit.csv"]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert (
        "? B (yellow, 0.92 m, two push-on terminals) or F (yellow, 0.9 m, two push-on terminals); 1 left over"
        in out
    )


def test_a_plan_uses_the_leads_of_a_kit_and_says_what_is_left(
    van: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert main(["plan", "--kit", "stock.csv", "--json"]) == 0
    leads = json.loads(capsys.readouterr().out)["leads"]
    assert [(line["lead"], line["outcome"]) for line in leads] == [
        ("K1", "used"),
        ("K3", "not offered"),
        ("K4", "left over"),
        ("", "missing"),
    ]
    assert "from 53b on the wiper switch, dash to 53b on the wiper motor, scuttle" in leads[0]["text"]
    assert main(["plan", "--kit", "stock.csv"]) == 0
    assert "  LEFT     K4: green, 1.5 mm2, 0.6 m, two bullets\n" in capsys.readouterr().out


def test_a_plan_without_a_kit_says_nothing_of_leads(van: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["plan", "--json"]) == 0
    assert "leads" not in json.loads(capsys.readouterr().out)


def test_a_kit_alone_is_shown_as_it_was_read(van: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "kit.csv"]) == 0
    assert "row 6: 2 x E, black, 0.45 m, three push-on terminals" in capsys.readouterr().out


@pytest.mark.parametrize("argv", [["plan"], ["check", "loom.yaml"]])
def test_a_kit_with_an_unreadable_row_matches_nothing(
    van: Path, capsys: pytest.CaptureFixture[str], argv: list[str]
) -> None:
    Path("kit.csv").write_text(KIT.replace("two push-on", "push-on"))
    capsys.readouterr()
    assert main([*argv, "--kit", "kit.csv"]) == 2
    streams = capsys.readouterr()
    assert (streams.out, streams.err.count("does not say how many")) == ("", 2)


def test_the_sheet_of_a_kit_names_commands_with_the_kit(
    van: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    capsys.readouterr()
    assert main(["sheet", "job.yaml", "--kit", "stock.csv"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "loomwright meter job.yaml --kit stock.csv" in said
    monkeypatch.setattr("sys.stdin", io.StringIO("stop\n"))
    assert main(["meter", "job.yaml", "--kit", "stock.csv"]) == 1
    assert "loomwright meter job.yaml --kit stock.csv --log" in " ".join(capsys.readouterr().out.split())
