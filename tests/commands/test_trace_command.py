"""``loomwright trace``: a conversation at the bench, what it keeps, and what it says to nonsense."""

import json
from collections.abc import Sequence
from pathlib import Path

import pytest

from planner.commands import main

LOOM = "skarrow-8"
SYMPTOM = "left side lamp off with lighting switch side"
WITH = "lighting switch side"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def hold(monkeypatch: pytest.MonkeyPatch, typed: Sequence[str], *argv: str) -> int:
    """Type some lines, then nothing more."""
    left = iter(typed)

    def answer() -> str:
        try:
            return next(left)
        except StopIteration:
            raise EOFError from None

    monkeypatch.setattr("builtins.input", answer)
    return main(["trace", *(argv or (LOOM,))])


def test_a_file_of_observations_is_reported_with_the_next_reading(folder: Path, capsys) -> None:
    Path("seen.yaml").write_text(
        f"seen:\n  - {SYMPTOM}\n  - right side lamp on with {WITH}\n"
        f"  - 0,0 V at lamp on the left side lamp with {WITH}\n"
    )
    status = main(["trace", LOOM, "--seen", "seen.yaml", "--json"])
    said = json.loads(capsys.readouterr().out)
    assert status == 1 and said["verdict"] == "open"
    assert any("(W88) is off" in suspect["words"] for suspect in said["suspects"])
    assert said["question"]["outcomes"]
    assert not list(folder.glob("*-hunt.yaml"))


def test_what_a_file_comes_to_is_drawn_beside_it_and_its_bounds_are_told(folder: Path, capsys) -> None:
    Path("seen.yaml").write_text(
        f"seen:\n  - wire W88 loose at 5 on the fuse box\n  - {SYMPTOM}\n  - right side lamp on with {WITH}\n"
    )
    assert main(["trace", LOOM, "--seen", "seen.yaml", "--json"]) == 0
    told = capsys.readouterr()
    assert json.loads(told.out)["verdict"] == "found"
    assert "no two at once" in json.loads(told.out)["considered"]
    drawn = folder / f"{LOOM}-hunt.svg"
    assert drawn.name in told.err and "suspected: hangs loose" in drawn.read_text()


def test_what_cannot_be_used_in_a_file_is_told_with_its_place(folder: Path, capsys) -> None:
    Path("seen.yaml").write_text(
        "seen:\n  - purple rain\n  - 12 A at M on the wiper motor\n  - 99 V at M on the wiper motor\n"
    )
    assert main(["trace", LOOM, "--seen", "seen.yaml"]) == 2
    told = capsys.readouterr().err
    assert "seen.yaml:2:5: 'purple rain' is not understood" in told
    assert "seen.yaml:3:5: '12 A' has no unit" in told
    assert "seen.yaml:4:5: '99 v' is more than a vehicle of 12 V can have" in told


def test_a_lamp_that_is_on_in_several_settings_is_asked_about_at_its_place(folder: Path, capsys) -> None:
    Path("seen.yaml").write_text("seen:\n  - horn off\n  - side lamps dim when braking\n")
    assert main(["trace", LOOM, "--seen", "seen.yaml"]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "Taken as: sound the horn (horn): off - horn button" in told
    assert "seen.yaml:3:5: side lamp (left side lamp) may be so in more than one setting" in told
    assert "with brake pedal pressed and lighting side" in told


def test_a_hunt_is_kept_after_each_answer_and_goes_on_from_there(folder: Path, monkeypatch, capsys) -> None:
    assert hold(monkeypatch, [SYMPTOM, "", "gibberish", "?", "why", "list", "withdraw 9"]) == 1
    told = capsys.readouterr().err
    for words in ("Nothing typed", "withdraw 1 to 1", "on the way:", "go on with --log"):
        assert words in told
    log = folder / f"{LOOM}-hunt.yaml"
    assert "side lamp off" in log.read_text()
    assert hold(monkeypatch, []) == 2  # not over another hunt unasked
    assert hold(monkeypatch, [f"0 V at lamp on the left side lamp with {WITH}"], LOOM, "--log", log.name) == 1
    assert log.read_text().count("\n  - ") == 2
    assert hold(monkeypatch, ["withdraw 2"], LOOM, "--log", log.name) == 1
    assert log.read_text().count("\n  - ") == 1


def test_a_hunt_says_at_its_start_where_it_keeps_what_is_said_and_stop_ends_it(
    folder: Path, monkeypatch, capsys
) -> None:
    assert hold(monkeypatch, ["list", "withdraw 1", "stop", "left over"], LOOM, "--log", "my hunt.yaml") == 1
    told = capsys.readouterr().err
    assert told.index("Kept in my hunt.yaml") < told.index("What do you see?")
    assert "Nothing was said so far" in told and "is not understood" not in told
    assert "withdraw 1 to 0" not in told
    assert "nothing was said, so nothing is kept" in told and not Path("my hunt.yaml").exists()


def test_undo_takes_back_the_last_and_exit_ends_it(folder: Path, monkeypatch, capsys) -> None:
    assert hold(monkeypatch, [SYMPTOM, "undo", "list", SYMPTOM, "exit"], LOOM, "--log", "my hunt.yaml") == 1
    told = capsys.readouterr().err
    assert "Withdrawn: 1" in told and "Nothing was said so far" in told
    assert "go on with --log 'my hunt.yaml'" in told
    assert Path("my hunt.yaml").read_text().count("\n  - ") == 1


def test_an_interruption_keeps_what_was_said_and_its_status_says_so(folder: Path, monkeypatch) -> None:
    left = iter([SYMPTOM])

    def answer() -> str:
        try:
            return next(left)
        except StopIteration:
            raise KeyboardInterrupt from None

    monkeypatch.setattr("builtins.input", answer)
    assert main(["trace", LOOM]) == 130
    assert "side lamp off" in Path(f"{LOOM}-hunt.yaml").read_text()


def test_the_log_is_called_after_the_job_and_not_after_its_file(folder: Path, monkeypatch, capsys) -> None:
    assert main(["start", "van"]) == 0
    file = next(Path("van").rglob("*job*.yaml"))
    file.rename("my job.yaml")
    for other in Path("van").iterdir():
        other.rename(other.name)
    hold(monkeypatch, ["wipe slowly off with ignition on, wiper slow"], "my job.yaml")
    assert [path.name for path in Path().glob("*-hunt.yaml")] != ["my job-hunt.yaml"]


def test_what_is_said_at_the_prompt_fits_the_terminal(folder: Path, monkeypatch, capsys) -> None:
    hold(monkeypatch, [SYMPTOM])
    assert max(map(len, capsys.readouterr().err.splitlines())) <= 80


def test_a_report_from_a_file_says_how_to_go_on_and_nothing_is_said_twice(
    folder: Path, monkeypatch, capsys
) -> None:
    Path("seen.yaml").write_text(f"seen:\n  - {SYMPTOM}\n")
    assert main(["trace", LOOM, "--seen", "seen.yaml"]) == 1
    told = " ".join(capsys.readouterr().err.split())
    command = f"loomwright trace {LOOM} --seen seen.yaml --log {LOOM}-hunt.yaml"
    assert told.endswith(command)
    for _ in range(2):
        hold(monkeypatch, [], *command.split()[2:])
    assert Path(f"{LOOM}-hunt.yaml").read_text().count("\n  - ") == 1


def test_what_is_on_where_it_should_be_off_is_not_called_as_it_should_be(folder: Path, capsys) -> None:
    Path("seen.yaml").write_text("seen:\n  - wipe fast on with ignition on, wiper slow\n")
    main(["trace", "two-speed-wipers", "--seen", "seen.yaml"])
    assert "1. wipe fast (wiper motor, scuttle): works fully" in " ".join(capsys.readouterr().out.split())


def test_who_names_a_mark_that_a_part_has_not_is_told_those_that_it_has(folder: Path, capsys) -> None:
    Path("seen.yaml").write_text("seen:\n  - 12.4 V at B+ on the battery\n  - 12 V at 30\n")
    assert main(["trace", LOOM, "--seen", "seen.yaml"]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "no terminal is called 'B+ on the battery' try a mark and its part: +, - on the battery" in told
    assert "no terminal is called '30' try a mark and its part, such as" in told


def test_who_names_no_load_is_told_those_that_share_a_word_with_it(folder: Path, capsys) -> None:
    Path("seen.yaml").write_text("seen:\n  - horn noise off with ignition on\n")
    assert main(["trace", LOOM, "--seen", "seen.yaml"]) == 2
    assert "try bay.horn/sound the horn" in " ".join(capsys.readouterr().err.split())


def test_without_a_name_it_takes_the_job_of_the_folder(folder: Path, monkeypatch, capsys) -> None:
    assert main(["trace"]) == 2
    assert "there is no job in this folder" in " ".join(capsys.readouterr().err.split())
    assert main(["start", "van"]) == 0
    monkeypatch.chdir("van")
    assert hold(monkeypatch, [], "--log", "kept.yaml") == 1
    assert "Two-speed wipers: what is wrong?" in capsys.readouterr().err


def test_a_wire_of_a_job_that_hangs_loose_is_found(folder: Path, monkeypatch, capsys) -> None:
    loose = "wire W36 loose at 53 on the wiper motor"
    assert hold(monkeypatch, ["wipe slowly off with ignition on, wiper slow", loose], "two-speed-wipers") == 0
    told = capsys.readouterr()
    assert "FOUND: the yellow wire (W36) is off 53 on the wiper motor, scuttle" in " ".join(told.out.split())
    assert "are drawn in two-speed-wipers-hunt.svg" in " ".join(told.err.split())
    drawn = Path("two-speed-wipers-hunt.svg").read_text()
    assert 'data-wire="W36"' in drawn and "suspected: hangs" in drawn
