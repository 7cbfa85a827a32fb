"""With --watch the work is done again after each save, faults are said in between, and Ctrl-C ends it."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from planner.commands import INTERRUPTED, NOT_USABLE, main
from planner.commands.work import watching
from planner.commands.work.watching import watch
from planner.problems import FilePlace, InputError, Problem
from planner.reading.noting import note, noted_files, stamp

LOOM = 'loom: mine\nsupply: {volts: 12, earthed: negative}\nfeeds: {"feed:a": {role: "30"}}\n'


class Clock:
    """Stands in for sleeping: each rest does the next thing, and after the last one the person ends it."""

    def __init__(self, *moments: Callable[[], object] | None) -> None:
        self.moments: Iterator[Callable[[], object] | None] = iter(moments)
        self.rests = 0

    def __call__(self, seconds: float) -> None:
        assert seconds == watching.POLL_SECONDS
        self.rests += 1
        try:
            moment = next(self.moments)
        except StopIteration:
            raise KeyboardInterrupt from None
        if moment:
            moment()


def _work(path: Path, seen: list[str]) -> Callable[[], None]:
    def work() -> None:
        note(path)
        seen.append(path.read_text())
        if seen[-1] == "broken":
            raise InputError([Problem(FilePlace(str(path), 1, 1), "this is half of it")])

    return work


def test_work_is_done_again_after_a_save_and_not_without_one(tmp_path):
    path, seen = tmp_path / "a", []
    path.write_text("one")
    clock = Clock(None, None, lambda: path.write_text("second"), None, None)
    with pytest.raises(KeyboardInterrupt):
        watch(_work(path, seen), clock)
    assert seen == ["one", "second"]


def test_a_file_saved_in_steps_is_read_when_it_rests(tmp_path):
    path, seen = tmp_path / "a", []
    path.write_text("one")
    saves = [lambda n=n: path.write_text("x" * n) for n in (5, 6, 7)]
    with pytest.raises(KeyboardInterrupt):
        watch(_work(path, seen), Clock(*saves, None, None))
    assert seen == ["one", "x" * 7]


def test_a_fault_is_said_and_the_next_save_is_waited_for(tmp_path, capsys):
    path, seen = tmp_path / "a", []
    path.write_text("broken")
    with pytest.raises(KeyboardInterrupt):
        watch(_work(path, seen), Clock(lambda: path.write_text("mended"), None))
    assert seen == ["broken", "mended"]
    assert "this is half of it" in " ".join(capsys.readouterr().err.split())


def test_a_fault_of_ours_ends_it(tmp_path):
    def work() -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        watch(work, Clock())


def test_a_save_while_the_work_is_being_done_is_not_missed(tmp_path):
    path, seen = tmp_path / "a", []
    path.write_text("one")

    def work() -> None:
        note(path)
        seen.append(path.read_text())
        if len(seen) == 1:
            path.write_text("saved meanwhile")

    with pytest.raises(KeyboardInterrupt):
        watch(work, Clock(None, None))
    assert seen == ["one", "saved meanwhile"]


def test_a_file_that_goes_and_comes_is_two_changes(tmp_path):
    path = tmp_path / "a"
    assert stamp(path) is None and stamp(Path("a\0b")) is None
    path.write_text("x")
    assert stamp(path) is not None


def test_nothing_is_noted_where_nobody_asks(tmp_path):
    note(tmp_path)
    with noted_files() as noted:
        assert noted == {}
        note(tmp_path)
        assert set(noted) == {tmp_path}


@pytest.mark.parametrize("verb", ["plan", "check"])
def test_a_job_is_planned_or_checked_again_when_its_loom_is_saved(
    verb: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "loom.yaml").write_text(LOOM, encoding="utf-8")
    job = tmp_path / "job.yaml"
    job.write_text("job: try\nloom: loom.yaml\nsupply: {volts: 12, earthed: positive}\n", encoding="utf-8")
    loom = tmp_path / "loom.yaml"
    clock = Clock(
        lambda: loom.write_text(LOOM[:40]), None, lambda: loom.write_text(LOOM + "title: Mended\n"), None
    )
    monkeypatch.setattr(watching.time, "sleep", clock)
    assert main([verb, str(job), "--watch"]) == INTERRUPTED
    out, err = (" ".join(text.split()) for text in capsys.readouterr())
    assert err.count("files and folders are watched") == 3
    assert "loom.yaml:3:1: not valid YAML" in err and "Mended" in out


@pytest.mark.parametrize("argv", [["plan", "--json"], ["check", "--json"], ["check", "--schema", "part"]])
def test_what_cannot_go_on_is_not_watched(argv: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*argv, "--watch"]) == NOT_USABLE
    assert "--watch" in capsys.readouterr().err
