"""Every benchmark has a help and refuses what it does not understand, before it measures anything."""

import sys
from pathlib import Path

import pytest

from benchmarks.arguments import rounds_of

FILES = sorted(
    p for p in Path(__file__).parents[1].joinpath("benchmarks").glob("*.py") if "def main" in p.read_text()
)


@pytest.mark.parametrize(("given", "found"), [([], 15), (["3"], 3)])
def test_the_rounds_are_what_is_typed_or_the_usual_ones(monkeypatch, given, found) -> None:
    monkeypatch.setattr(sys, "argv", ["x", *given])
    assert rounds_of("x", "Times this.", 15) == found


@pytest.mark.parametrize(("given", "status"), [(["--help"], 0), (["0"], 2), (["many"], 2), (["-x"], 2)])
def test_help_and_wrong_arguments_end_it(monkeypatch, capsys, given, status) -> None:
    monkeypatch.setattr(sys, "argv", ["x", *given])
    with pytest.raises(SystemExit) as ended:
        rounds_of("x", "Times this.\n\nAnd how.", 15)
    shown = capsys.readouterr()
    assert ended.value.code == status
    assert "usage: python -m benchmarks.x [-h] [rounds]" in shown.out + shown.err
    assert ("And how." in shown.out) is (status == 0)


def test_a_benchmark_without_rounds_takes_none(monkeypatch) -> None:
    monkeypatch.setattr(sys, "argv", ["x", "3"])
    with pytest.raises(SystemExit):
        rounds_of("x", "Times this.")


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_benchmark_reads_its_arguments_under_its_own_name(file: Path) -> None:
    assert f'rounds_of("{file.stem}", __doc__' in file.read_text()


def test_there_are_benchmarks() -> None:
    assert len(FILES) >= 7
