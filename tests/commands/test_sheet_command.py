"""``loomwright sheet``: what it prints, why, and the files it writes."""

import csv
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from planner.commands import main

JOB = "route-recorder"


def test_it_prints_the_steps_by_place_first_power_and_the_way_back(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["sheet", JOB]) == 0
    said = capsys.readouterr().out
    headings = ("Cautions", "Before the work", "First power", "Wires to make", "Materials", "Labels")
    order = [said.index(f"\n{heading}\n---") for heading in (*headings, "The way back")]
    assert order == sorted(order)
    assert (
        "Place 1: route recorder, dash (dashboard)" in said
        and "[ ] 1. Fit the new part at the route recorder" in said
    )
    assert "the minus post, the earthed one, off" in said


def test_why_says_the_chain_of_reasons_or_that_nothing_demands_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", JOB, "--why", "3", "1"]) == 0
    assert "step 1 before step 3: feeds last" in capsys.readouterr().out
    assert main(["sheet", JOB, "--why", "2", "1", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["because"] == [
        {"first": 1, "then": 2, "why": "fit before its ends go on"}
    ]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--why", "9", "1"], "there is no step 9; this plan has steps 1 to 3"),
        (["--why", "2", "2"], "step 2 cannot come before itself"),
        (["--force"], "it needs --write DIR"),
        (["--form", "pdf"], "it needs --write DIR"),
        (["--paper", "letter"], "it needs --write DIR"),
        (["--side", "other"], "it needs --write DIR"),
        (["--write", "x", "--side", "top"], "--side knows no 'top'; it takes wiring or other"),
        (["--write", "x", "--form", "pdf,doc"], "--form knows no 'doc'; it takes pdf, html, md"),
    ],
)
def test_what_it_cannot_answer_is_said(
    arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheet", JOB, *arguments]) == 2
    said = capsys.readouterr()
    assert words in said.err and said.out == ""


def test_it_writes_every_form_and_never_over_a_file_unasked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    to = tmp_path / "new" / "folder"
    assert main(["sheet", JOB, "--write", str(to)]) == 0
    assert {file.name.removeprefix(f"{JOB}-") for file in to.iterdir()} == {
        *("bench-sheet-a4.pdf", "bench-sheet.html", "bench-sheet.md", "bench-sheet.json", "all-tables.xlsx"),
        *("labels.csv", "materials.csv", "work-list.csv", "wires-before.csv", "wires-after.csv"),
        "meter-readings.csv",
    }
    with (to / f"{JOB}-work-list.csv").open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert [row["step"] for row in rows] == ["1", "2", "3"] and rows[2]["do"] == "connect"
    capsys.readouterr()

    (to / f"{JOB}-labels.csv").write_text("mine")
    (to / f"{JOB}-bench-sheet.md").unlink()
    assert main(["sheet", JOB, "--write", str(to)]) == 2
    assert "is there already, so nothing is written; --force replaces it" in capsys.readouterr().err
    assert not (to / f"{JOB}-bench-sheet.md").exists() and (to / f"{JOB}-labels.csv").read_text() == "mine"
    assert main(["sheet", JOB, "--write", str(to), "--force"]) == 0
    assert (to / f"{JOB}-labels.csv").read_text(encoding="utf-8-sig").startswith("wire,colour")


def test_forms_are_chosen_by_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", JOB, "--write", str(tmp_path), "--form", "PDF, md", "--paper", "letter"]) == 0
    names = sorted(file.name for file in tmp_path.iterdir())
    assert names == [f"{JOB}-bench-sheet-letter.pdf", f"{JOB}-bench-sheet.md"]
    said = capsys.readouterr().out
    assert all(name in said for name in names) and "to print and take to the vehicle" in said


def test_pictures_are_files_of_their_own_seen_from_the_side_that_is_named(tmp_path: Path) -> None:
    for side in ("wiring", "other"):
        arguments = ["--write", str(tmp_path / side), "--form", "svg", "--side", side]
        assert main(["sheet", "two-speed-switch-only", *arguments]) == 1
    name = "two-speed-switch-only-place-dash-wiper-switch-after.svg"
    before, after = ((tmp_path / side / name).read_text(encoding="utf-8") for side in ("wiring", "other"))
    assert "Seen from its wiring side." in before and "Seen from its other side." in after
    marks = [re.findall(r'data-terminal="([^"]*)">\s*<rect x="([^"]*)"', svg) for svg in (before, after)]
    assert dict(marks[0]).keys() == dict(marks[1]).keys() and dict(marks[0]) != dict(marks[1])


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("")
    assert main(["sheet", JOB, "--write", str(tmp_path / "file" / "x")]) == 2
    assert "cannot be written to" in " ".join(capsys.readouterr().err.split())


def test_the_document_has_every_step_with_its_id_and_place(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", JOB, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert [(s["n"], s["place"], s["done"]) for s in document["steps"]] == [
        (1, "dash.recorder", False), (2, "dash.recorder", False), (3, "dash.fuse-box", False)
    ]  # fmt: skip
    assert len({s["id"] for s in document["steps"]}) == 3
    assert [v["steps"] for v in document["visits"]] == [[1, 2], [3]] and document["proven_fewest"]


def test_when_every_step_is_done_nothing_is_to_be_laid_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "done.txt").write_text("1-3\n")
    assert main(["sheet", JOB, "--done", str(tmp_path / "done.txt")]) == 0
    said = capsys.readouterr().out
    assert "Every step is done" in said and "\nFirst power\n" in said
    assert "Lay out the parts" not in said and "Before the work" not in said


def test_what_is_worse_is_named_once_however_many_conditions_it_has(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["sheet", "dip-relay-five-to-four"]) == 1
    opening = capsys.readouterr().out.partition("\nCautions\n")[0].splitlines()
    named = [line for line in opening if line.startswith(("- changed: ", "- lost: ", "- unintended: "))]
    assert named and len(set(named)) == len(named)


def test_of_an_unsafe_plan_it_says_first_why_it_must_not_be_done(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", "car-to-negative-earth"]) == 1
    said = capsys.readouterr().out
    warned = said.index("what follows are the steps of a plan that must not be done")
    assert said.index("Verdict: UNSAFE") < warned < said.index("Cautions")
    assert said[:warned].count("\n- ") >= 1


def test_what_is_done_is_ticked_and_only_the_rest_is_listed_by_place(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "done.txt").write_text("1-2\n")
    assert main(["sheet", JOB, "--done", str(tmp_path / "done.txt")]) == 0
    said = capsys.readouterr().out
    assert "[x] 1. Fit the new part at the route recorder" in said and "1 step left" in said
    assert "Place 1" not in said and "[ ] 3. Put the other end" in said
    assert "change of place" not in said and "(proven)" not in said  # that was of the whole list


def test_the_commands_on_it_name_the_folder_of_parts_that_they_need(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "my own"
    (own / "parts").mkdir(parents=True)
    main(["sheet", JOB, "--catalog", str(own)])
    said = " ".join(capsys.readouterr().out.replace("\\\n", " ").split())  # as a shell joins lines
    assert f"loomwright meter {JOB} --catalog '{own}'" in said


def test_who_only_prints_does_not_wait_for_what_writes() -> None:
    code = (
        "import sys; from planner.commands import main; main(['sheet', 'route-recorder']); "
        "print({'typst', 'xlsxwriter', 'jinja2', 'planner.pictures.pictures'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.rstrip().endswith("set()")
