"""``loomwright identify``: statuses, the document, the sheet, and words it cannot use."""

import json
from pathlib import Path
from typing import Any

import pytest

from planner.commands import FINE, NOT_USABLE, main

OPEN = 1
# Invented: a lighting switch with two feeds, measured through, its terminals lettered by the person.
LIGHTING = """\
position,A-B,A-C,A-D,A-E,B-C,B-D,B-E,C-D,C-E,D-E
0,open,open,open,open,open,beeps,open,open,open,open
1,open,open,open,open,0.2,0.1,0.3,beeps,beeps,0.2
2,beeps,beeps,beeps,beeps,0.2,0.1,0.3,beeps,beeps,0.2
"""


def run(tmp_path: Path, text: str, *more: str) -> int:
    (tmp_path / "bench.csv").write_text(text, encoding="utf-8")
    return main(["identify", str(tmp_path / "bench.csv"), *more])


def document(capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    out, err = capsys.readouterr()
    assert err == ""
    found: dict[str, Any] = json.loads(out)
    return found


def test_a_switch_of_three_positions_is_found_from_a_drawn_table(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, LIGHTING, "--json") == FINE
    found = document(capsys)
    assert found["decided"]
    (only,) = found["explanations"]
    assert only["part"] == "lighting-switch-two-feeds"
    assert only["not_read"] == []
    assert found["next"] is None


def test_the_sheet_says_which_terminal_and_which_position_is_which(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, LIGHTING) == FINE
    out = capsys.readouterr().out
    lines = [" ".join(line.split()) for line in out.splitlines()]
    assert max(len(line) for line in out.splitlines()) <= 80
    assert out.isascii()
    assert any(line.startswith("FOUND: ") for line in lines)
    assert "A H headlamps, feed from the light switch" in lines
    assert "C S or P these read alike: go by its face or its wires" in lines
    assert any(line.startswith("2 lighting: ") for line in lines)


def test_with_less_read_the_next_reading_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    less = "position,from,to,reading\nrest,A,B,75\n,C,D,beeps\ncoil fed,C,E,0.2\n"
    assert run(tmp_path, less) == OPEN
    out = capsys.readouterr().out
    assert "NOT DECIDED" in out
    assert out.index("Read this next") < out.index("What explains the readings")
    assert "In position coil fed, from A (red) to D (black)." in out


def test_contradictory_readings_are_told_with_what_contradicts_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "position,A-B,B-C,A-C\non,beeps,beeps,open\n"
    assert run(tmp_path, text, "--json") == OPEN
    (found,) = document(capsys)["contradictions"]
    assert (found["reading"]["from"], found["reading"]["to"], found["reading"]["row"]) == ("A", "C", 2)
    assert [(r["from"], r["to"]) for r in found["others"]] == [("A", "B"), ("B", "C")]
    assert run(tmp_path, text) == OPEN
    assert "TAKE SOME READINGS AGAIN" in capsys.readouterr().out


def test_the_reading_to_withdraw_is_named_where_nothing_fits(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spoilt = LIGHTING.replace("open,beeps,open", "open,open,open", 1)
    assert run(tmp_path, spoilt) == OPEN
    out = " ".join(capsys.readouterr().out.split())
    assert "NOT FOUND" in out
    assert "What would fit if one reading were withdrawn" in out
    assert run(tmp_path, spoilt, "--json") == OPEN
    nearly = document(capsys)["nearly"]
    assert {e["part"] for e in nearly} == {"lighting-switch-two-feeds"}
    assert ("B", "D", 2) in {(r["from"], r["to"], r["row"]) for e in nearly for r in e["without"]}


def test_only_one_family_is_looked_at_when_it_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "position,A-B\nout,open\nin,beeps\n"
    run(tmp_path, text, "--json")
    everything = {e["family"] for e in document(capsys)["explanations"]}
    assert len(everything) > 1
    run(tmp_path, text, "--family", "stop-switch", "--json")
    assert {e["family"] for e in document(capsys)["explanations"]} == {"stop-switch"}


def test_leads_that_were_read_are_taken_off_the_readings(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "position,A-B\nrest,7.9\n"
    run(tmp_path, text, "--json")
    assert "load-resistor-5" not in {e["part"] for e in document(capsys)["explanations"]}
    run(tmp_path, text, "--leads", "1.8", "--json")
    assert "load-resistor-5" in {e["part"] for e in document(capsys)["explanations"]}


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--family", "lighting-swich"], "there is no family 'lighting-swich'; try lighting-switch"),
        (["--leads", "much"], "expected ohms from 0 to 5, got 'much'"),
        (["--leads", "-1"], "expected ohms from 0 to 5, got '-1'"),
    ],
)
def test_words_that_cannot_be_used_are_said(
    more: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, LIGHTING, *more) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err


def test_what_was_measured_is_written_and_compared_with_the_original(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mine = tmp_path / "parts" / "mine.yaml"
    mine.parent.mkdir()
    assert run(tmp_path, LIGHTING, "--write", str(mine)) == FINE
    assert "What C, E are for is not known." in capsys.readouterr().out
    assert main(["check", str(mine)]) == FINE
    capsys.readouterr()
    assert main(["compare", "lighting-switch-two-feeds", str(mine), "--json"]) == OPEN
    compared = document(capsys)
    assert compared["verdict"] == "fits with rewiring"
    assert {row["outcome"] for row in compared["behaviours"]} == {"kept"}
    argv = ["compare", "lighting-switch-two-feeds", "mine", "--catalog", str(tmp_path), "--json"]
    assert main(argv) == OPEN
    assert document(capsys)["terminals"] == compared["terminals"]


def test_a_reproduction_with_a_contact_less_is_told_from_the_original(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    worse = LIGHTING.replace(
        "1,open,open,open,open,0.2,0.1,0.3,beeps,beeps,0.2", "1" + ",open" * 5 + ",0.1" + ",open" * 4
    )
    for number, meaning in enumerate(("off", "side", "head")):
        worse = worse.replace(f"\n{number},", f"\n{meaning},")
    mine = tmp_path / "mine.yaml"
    run(tmp_path, worse, "--write", str(mine), "--family", "lighting-switch")
    capsys.readouterr()
    assert main(["compare", "lighting-switch-two-feeds", str(mine), "--json"]) == OPEN
    compared = document(capsys)
    assert compared["verdict"] == "fits with losses"
    assert any(row["outcome"] == "lost" for row in compared["behaviours"])
    assert not any("another kind of part" in reason for reason in compared["reasons"])


def test_a_written_part_is_fitted_in_a_loom(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    mine = str(tmp_path / "mine.yaml")
    run(tmp_path, LIGHTING, "--write", mine)
    capsys.readouterr()
    argv = ["compare", "lighting-switch-two-feeds", mine, "--in", "skarrow-8", "--at", "dash.lighting-switch"]
    assert main([*argv, "--json"]) == 1
    fitted = document(capsys)["fitted"]
    assert fitted["verdict"] == "measure"  # its joints fit; what it carries nobody has read off it
    assert {line["outcome"] for line in fitted["behaviours"]} <= {"kept"}
    assert {step["do"] for step in fitted["steps"]} >= {"remove", "fit", "move"}


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("mine.txt", "expected a name that ends in .yaml"),
        (".yaml", "expected a name that ends in .yaml"),
        ("there.yaml", "it is there already"),
        ("fog-lamp.yaml", "the catalogue has a part fog-lamp"),
        ("no/folder/mine.yaml", "No such file or directory"),
    ],
)
def test_a_part_that_cannot_be_written_there_is_said_and_nothing_changes(
    name: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "there.yaml").write_text("mine already\n", encoding="utf-8")
    assert run(tmp_path, LIGHTING, "--write", str(tmp_path / name)) == NOT_USABLE
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert {path.name for path in tmp_path.iterdir()} == {"bench.csv", "there.yaml"}
    assert (tmp_path / "there.yaml").read_text(encoding="utf-8") == "mine already\n"


def test_found_is_said_just_where_the_status_is_0(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One kind of part that was not read in every position is not found yet, and says so."""
    without_2 = LIGHTING[: LIGHTING.index("\n2,") + 1]
    for text, status in ((LIGHTING, FINE), (without_2, OPEN)):
        assert run(tmp_path, text, "--family", "lighting-switch") == status
        out = " ".join(capsys.readouterr().out.split())
        assert ("FOUND: " in out.replace("NOT FOUND: ", "")) is (status == FINE)
    assert "as far as it was read" in out
    assert "Not read, if it is the first one below: lighting:" in out


def test_the_limit_of_ways_is_told_where_it_bites(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = "position,1-2,1-3,1-4,1-5,1-6,1-7\nrest,open,open,open,open,open,open\n"
    assert run(tmp_path, text) == OPEN
    out = " ".join(capsys.readouterr().out.split())
    assert "More than 60 ways of one part fit, and no more are kept: read more." in out
    assert "or more explanations are left" in out
    assert "ways or more" in out
    assert run(tmp_path, text, "--json") == OPEN
    assert document(capsys)["has_more_ways_than_kept"] is True
    assert run(tmp_path, LIGHTING, "--json") == FINE
    assert document(capsys)["has_more_ways_than_kept"] is False


def test_readings_that_are_all_open_are_said_to_tell_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, "position,A-B\noff,open\non,OL\n") == OPEN
    out = " ".join(capsys.readouterr().out.split())
    assert "NOT DECIDED: nothing was found joined to anything." in out
    assert "FOUND: " not in out


def test_a_switch_that_works_the_other_way_round_is_asked_about(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "position,1-2\nreleased,0.2\npressed,OL\n"
    assert run(tmp_path, text, "--family", "stop switch") == OPEN
    out = " ".join(capsys.readouterr().out.split())
    assert "it fits only if your positions are called otherwise" in out
    assert "Your 'pressed' reads as its 'brake pedal: at rest'." in out


def test_several_kinds_are_narrowed_by_what_it_is_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = "position,X-Y,X-Z,Y-Z\noff,OL,OL,OL\nside,0.2,OL,OL\nhead,beeps,0.1,0.3\n"
    assert run(tmp_path, text) == OPEN
    out = " ".join(capsys.readouterr().out.split())
    assert "speaks for a lighting-switch." in out
    assert "say so with --family: lighting-switch, ignition-switch." in out


def test_a_reading_the_other_way_round_is_called_that(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, "position,A-B\nrest,beeps\n", "--family", "in-line") == OPEN
    out = " ".join(capsys.readouterr().out.split())
    assert "from B (red) to A (black)." in out and "exchange the leads" in out


def test_a_written_part_is_told_with_the_commands_that_use_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "van" / "parts").mkdir(parents=True)
    assert run(tmp_path, LIGHTING, "--write", "van/parts/mine.yaml") == FINE
    out = " ".join(capsys.readouterr().out.split())
    assert "'loomwright compare lighting-switch-two-feeds van/parts/mine.yaml'" in out
    assert "fit: mine; then 'loomwright plan JOB --catalog van'" in out
    assert main(["compare", "lighting-switch-two-feeds", "van/parts/mine.yaml"]) == OPEN
    assert main(["parts", "mine", "--catalog", "van"]) == FINE
