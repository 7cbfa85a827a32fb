"""What is said on standard error is readable at 80 columns."""

import pytest

from planner.commands.work.failure import WIDTH, say
from planner.problems import FilePlace, InputError, Problem, UsageError


def test_long_lines_are_wrapped_and_each_fault_begins_with_its_place(
    capsys: pytest.CaptureFixture[str],
) -> None:
    long = " ".join(["many words"] * 30)
    problems = [Problem(FilePlace("a.csv", n, 1), long, hint=long) for n in (1, 2)]
    assert say(InputError(problems)) is False
    said = capsys.readouterr().err
    assert max(map(len, said.splitlines())) <= WIDTH
    assert [line[:9] for line in said.splitlines() if not line.startswith(" ")] == ["a.csv:1:1", "a.csv:2:1"]
    assert said.count("    try many") == 2 and " ".join(said.split()).count(long) == 4
    say(UsageError(f"short\n    indented {long}"))
    said = capsys.readouterr().err
    assert said.startswith("loomwright: short\n    indented") and max(map(len, said.splitlines())) <= WIDTH


def test_a_path_is_never_broken(capsys: pytest.CaptureFixture[str]) -> None:
    path = "/" + "long/" * 30
    say(UsageError(f"no such folder: {path}"))
    assert path in capsys.readouterr().err
