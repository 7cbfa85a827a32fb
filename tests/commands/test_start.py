"""``loomwright start``: a folder in which a plan works at once, or that begins with a person's own list."""

import json
from pathlib import Path

import jsonschema
import pytest

from planner.commands import main
from planner.pipeline import open_catalogue
from planner.problems import InputError
from planner.reading.catalogue import read_job, read_loom
from planner.reading.yaml_source import read_document
from planner.sheets.render import whole_folder

LIST = """\
Colour;Size (mm2);Length (cm);From;To
green/black;1.5;80;wiper switch, dash / 53;wiper motor / 53
black;1.5;30;wiper motor / 31;earth in the bay
orange;1.5;30;always live, fuse 8 A;horn push / 1
"""
MADE = {"job.yaml", "loom.yaml", "schemas", "wires.csv", "wires.xlsx"}


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_plan_works_at_once_in_the_new_folder(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["start", "van"]) == 0
    assert "cd van and 'loomwright plan'" in capsys.readouterr().out
    assert {path.name for path in (here / "van").iterdir()} == MADE
    monkeypatch.chdir(here / "van")
    assert main(["plan", "--json"]) == 0
    plan = json.loads(capsys.readouterr().out)
    assert (plan["job"], plan["verdict"]) == ("my-swap", "no-loss")
    assert main(["check", "loom.yaml", "job.yaml", "wires.csv", "wires.xlsx"]) == 0


def test_both_lists_give_the_same_loom(here: Path) -> None:
    assert main(["start", "van"]) == 0
    loom, catalogue = here / "van" / "loom.yaml", open_catalogue()
    wires = read_loom(loom, catalogue).wires
    loom.write_text(loom.read_text().replace("wire_list: wires.csv", "wire_list: wires.xlsx"))
    assert read_loom(loom, catalogue).wires == wires
    assert len(wires) == 4


@pytest.mark.parametrize("kind", ["loom", "job"])
def test_an_editor_finds_the_schema_that_each_file_names(here: Path, kind: str) -> None:
    assert main(["start", "van"]) == 0
    file = here / "van" / f"{kind}.yaml"
    first = file.read_text().splitlines()[0]
    assert first == f"# yaml-language-server: $schema=schemas/{kind}.json"
    schema = json.loads((here / "van" / "schemas" / f"{kind}.json").read_text())
    jsonschema.Draft202012Validator(schema).validate(read_document(file).data)


def test_what_a_beginner_has_to_change_is_marked(here: Path) -> None:
    assert main(["start", "van"]) == 0
    marked = [
        line.partition(":")[0].strip(" -{\"'")
        for name in ("loom.yaml", "job.yaml")
        for line in (here / "van" / name).read_text().splitlines()
        if "# CHANGE" in line
    ]
    assert marked == [
        "title",
        "supply",
        "feed",
        "dash.wiper-switch",
        "scuttle.wiper-motor",
        "title",
        "at",
        "at",
        "what",
    ]


def test_an_empty_folder_may_be_there(here: Path) -> None:
    (here / "van").mkdir()
    assert main(["start", "van"]) == 0
    assert {path.name for path in (here / "van").iterdir()} == MADE


@pytest.mark.parametrize("name", ["full", "file", "nowhere/van"])
def test_nothing_is_written_where_it_cannot_be(
    here: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    (here / "full").mkdir()
    (here / "full" / "mine").write_text("mine")
    (here / "file").write_text("mine")
    assert main(["start", name]) == 2
    assert f"{name} is not made" in capsys.readouterr().err
    assert sorted(str(path.relative_to(here)) for path in here.rglob("*")) == ["file", "full", "full/mine"]


def test_nothing_is_left_behind_when_writing_fails(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(path: Path, content: bytes) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(whole_folder.Path, "write_bytes", full)
    assert main(["start", "van"]) == 2
    assert "van is not made: No space left on device" in capsys.readouterr().err
    assert list(here.iterdir()) == []


def test_a_folder_begins_with_a_persons_own_list(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "my list.csv").write_text(LIST)
    assert main(["start", "own", "--wires", "my list.csv"]) == 0
    assert "which part sits at each of the 3 places of your list" in " ".join(capsys.readouterr().out.split())
    loom = (here / "own" / "loom.yaml").read_text()
    assert '  wiper-switch-dash: {part: CHOOSE, zone: car, title: "wiper switch, dash"}\n' in loom
    assert "  # wires go to 53, 31; may be wiper-motor-two-speed or" in loom
    assert main(["check", "own/loom.yaml"]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert said.count("CHOOSE") == 1 and "'loomwright parts WORDS'" in said
    assert "3 places have no part yet: wiper-switch-dash, wiper-motor, horn-push" in said


def test_columns_that_nobody_reads_are_said(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = LIST.splitlines()
    text = "\n".join(f"{row};{'Fuse panel' if n == 0 else ''}" for n, row in enumerate(rows))
    (here / "list.csv").write_text(text + "\n")
    assert main(["start", "own", "--wires", "list.csv"]) == 0
    assert "Not read, for no column is called so: 'Fuse panel'" in " ".join(capsys.readouterr().out.split())


def test_a_folder_in_place_of_a_job_names_the_jobs_in_it(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["start", "van"]) == 0
    assert main(["plan", "van"]) == 2
    assert "try van/job.yaml" in capsys.readouterr().err


def test_the_sheet_names_commands_that_work(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["start", "van"]) == 0
    capsys.readouterr()
    assert main(["sheet", "van/job.yaml"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "loomwright meter van/job.yaml" in said and "loomwright plan" not in said  # it stands by itself
    assert main(["plan", "van/job.yaml"]) == 0


def test_places_that_are_called_so_in_other_words_are_one(here: Path) -> None:
    other = "red;1.5;30;Left headlight / 56b;loose\nred;1.5;30;headlamp, left / 56a;loose\n"
    (here / "list.csv").write_text(LIST + other)
    assert main(["start", "own", "--wires", "list.csv"]) == 0
    loom = (here / "own" / "loom.yaml").read_text()
    assert loom.count("CHOOSE,") == 4
    assert (
        '  left-headlight: {part: CHOOSE, zone: car, title: "Left headlight"}\n  # wires go to 56b, 56a'
        in loom
    )


def test_the_parts_once_chosen_the_own_list_is_a_loom(here: Path) -> None:
    (here / "my list.csv").write_text(LIST)
    assert main(["start", "own", "--wires", "my list.csv"]) == 0
    path = here / "own" / "loom.yaml"
    text = path.read_text()
    for part in ("wiper-switch-two-speed", "wiper-motor-two-speed", "horn-push-feed"):
        text = text.replace("CHOOSE,", f"{part},", 1)
    path.write_text(text)
    marks = tuple(open_catalogue().parts["horn-push-feed"].terminals)
    (here / "own" / "my list.csv").write_text(LIST.replace("horn push / 1", f"horn push / {marks[0]}"))
    loom = read_loom(here / "own" / "loom.yaml", open_catalogue())
    assert [[end.at for end in wire.ends] for wire in loom.wires] == [
        ["wiper-switch-dash:53", "wiper-motor:53"],
        ["wiper-motor:31", "earth:bay"],
        ["feed:always-live-fuse-8-a", f"horn-push:{marks[0]}"],
    ]
    with pytest.raises(InputError, match="the job asks for nothing"):
        read_job(here / "own" / "job.yaml", open_catalogue())


def test_a_list_that_cannot_be_read_makes_no_folder(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "list.csv").write_text(LIST.replace("black;1.5;30", "GR;1.5;30"))
    assert main(["start", "own", "--wires", "list.csv"]) == 2
    assert "list.csv:3:1: colour: 'GR' may be" in capsys.readouterr().err
    assert [path.name for path in here.iterdir()] == ["list.csv"]


def test_plan_asks_which_of_two_jobs_is_meant(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("one", "two"):
        (here / f"{name}.yaml").write_text(f"job: {name}\nloom: skarrow-8\n")
    assert main(["plan"]) == 2
    assert "this folder holds 2 jobs; name the one to plan: one.yaml or two.yaml" in capsys.readouterr().err


def test_json_names_what_was_made(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["start", "van", "--json"]) == 0
    made = json.loads(capsys.readouterr().out)
    assert (made["made"], "loom.yaml" in made["files"]) == ("van", True)


def test_the_folder_that_one_stands_in_is_filled_and_stays_the_same(here: Path) -> None:
    before = here.stat().st_ino
    assert main(["start", "."]) == 0
    assert here.stat().st_ino == before
    assert {path.name for path in here.iterdir()} == MADE
    assert main(["plan"]) == 0


def test_a_folder_that_cannot_be_filled_whole_stays_empty(
    here: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    replace, done = Path.replace, []

    def full_after_two(path: Path, target: Path) -> Path:
        if len(done) == 2:
            raise OSError(28, "No space left on device")
        done.append(path)
        return replace(path, target)

    (here / "van").mkdir()
    monkeypatch.setattr(Path, "replace", full_after_two)
    assert main(["start", "van"]) == 2
    assert "No space left on device" in capsys.readouterr().err
    assert len(done) == 2 and list((here / "van").iterdir()) == [] and list(here.iterdir()) == [here / "van"]


def test_a_part_and_a_loom_of_ones_own_beside_the_job_say_how_they_are_found(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["start", "van"]) == 0
    (here / "van" / "parts").mkdir()
    job = here / "van" / "job.yaml"
    job.write_text(job.read_text().replace("fit: wiper-motor-two-speed", "fit: my-motor"))
    assert main(["plan", "van/job.yaml"]) == 2
    assert "try --catalog van, if it is one of your own in van/parts" in " ".join(
        capsys.readouterr().err.split()
    )
    (here / "van" / "looms").mkdir()
    (here / "van" / "jobs").mkdir()
    elsewhere = here / "van" / "jobs" / "job.yaml"
    elsewhere.write_text(job.read_text())
    assert main(["plan", "van/jobs/job.yaml"]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert "is given with --catalog DIR try --catalog van, if it is one of your own in van/looms" in said
