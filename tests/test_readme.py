"""What the README and DEVELOPERS.md show is what the program prints and what the files hold.

A ``console`` block is run command by command; a line ``[...]`` stands for output that is left out. With
LOOMWRIGHT_REFRESH=1 the output is written into the README anew, each piece from its first to its last line.
A ``yaml`` block names its file in its first line and is found there as it stands.
"""

import os
import re
import shlex
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

from planner.cautions import CAUTIONS

SOURCE = Path(__file__).parents[1]
README = SOURCE / "README.md"
PAGES = (README, SOURCE / "DEVELOPERS.md", SOURCE / "catalogs" / "README.md")
TEXT = README.read_text(encoding="utf-8")
RUN = "uv run loomwright"
START = "from planner.commands import run; run()"  # what the installed command does
LEFT_OUT = "[...]"
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
# A path in backticks that claims to be in this repository.
NAMED_PATH = re.compile(r"`((?:planner|rules|catalogs|tests|benchmarks|\.ci)(?:/[\w.*-]+)*/?)`")


def _blocks(kind: str) -> list[str]:
    return [text for found, text in BLOCK.findall(TEXT) if found == kind]


def _runs(block: str) -> list[tuple[str, list[str]]]:
    """Commands of a block, each with the lines printed below it."""
    runs: list[tuple[str, list[str]]] = []
    for line in block.splitlines():
        if line.startswith("$ "):
            runs.append((line[2:], []))
        else:
            runs[-1][1].append(line)
    return runs


@cache
def _run(command: str) -> tuple[list[str], int]:
    """What a command of ours prints into a pipe, and its exit status."""
    assert command.startswith(RUN), command
    words = [sys.executable, "-c", START, *shlex.split(command.removeprefix(RUN))]
    done = subprocess.run(words, capture_output=True, encoding="utf-8", check=False, cwd=SOURCE)
    return (done.stdout + done.stderr).splitlines(), done.returncode


def _pieces(shown: list[str]) -> list[list[str]]:
    pieces: list[list[str]] = [[]]
    for line in shown:
        if line == LEFT_OUT:
            pieces.append([])
        else:
            pieces[-1].append(line)
    return pieces


def _place(piece: list[str], printed: list[str], start: int) -> int:
    """Where a piece stands in what was printed, at or after a line; -1 if nowhere."""
    return next((n for n in range(start, len(printed)) if printed[n : n + len(piece)] == piece), -1)


def _refreshed(piece: list[str], printed: list[str]) -> list[str]:
    """What stands now from a piece's first line to its last, or as many lines if the last one has changed."""
    first, size = printed.index(piece[0]), len(piece)
    ends = [n for n, line in enumerate(printed, start=1) if n > first and line == piece[-1]]
    return printed[first : min(ends, key=lambda end: abs(end - first - size), default=first + size)]


def _with_new_output(match: re.Match[str]) -> str:
    if match[1] != "console":
        return match[0]
    lines, status = [], 0
    for command, shown in _runs(match[2]):
        lines.append(f"$ {command}")
        if command == "echo $?":
            lines.append(str(status))
            continue
        printed, status = _run(command)
        whole = LEFT_OUT not in shown
        for number, piece in enumerate([printed] if whole else _pieces(shown)):
            lines += [LEFT_OUT] * (number > 0) + (piece if whole or not piece else _refreshed(piece, printed))
    return "```console\n" + "\n".join(lines) + "\n```"


@pytest.mark.parametrize("block", _blocks("console"), ids=lambda block: block.partition("\n")[0])
def test_every_console_block_shows_what_the_program_prints(block: str) -> None:
    if os.environ.get("LOOMWRIGHT_REFRESH"):
        README.write_text(BLOCK.sub(_with_new_output, README.read_text(encoding="utf-8")), encoding="utf-8")
        return
    status = None
    for command, shown in _runs(block):
        if command == "echo $?":
            assert shown == [str(status)]
            continue
        printed, status = _run(command)
        pieces = _pieces(shown)
        if len(pieces) == 1:
            assert printed == shown
            continue
        at = 0
        for piece in pieces:
            found = _place(piece, printed, at)
            assert found >= 0, f"{command} no longer prints:\n" + "\n".join(piece)
            at = found + len(piece)
        assert not pieces[0] or printed[: len(pieces[0])] == pieces[0]
        assert not pieces[-1] or printed[-len(pieces[-1]) :] == pieces[-1]


def test_the_main_job_and_a_swap_are_shown() -> None:
    commands = [command for block in _blocks("console") for command, _ in _runs(block)]
    assert {f"{RUN} plan", f"{RUN} plan two-speed-wipers", "echo $?"} <= set(commands)


@pytest.mark.parametrize("block", _blocks("yaml"), ids=lambda block: block.partition("\n")[0])
def test_every_yaml_block_is_in_the_file_it_names(block: str) -> None:
    first, _, rest = block.partition("\n")
    file = (SOURCE / first.removeprefix("# ")).read_text(encoding="utf-8")
    for piece in rest.split(f"{LEFT_OUT}\n"):
        assert piece.strip() and piece in file


def test_the_two_commands_stand_as_they_are_run() -> None:
    assert _blocks("sh")[:2] == [
        "pip install uv && uv run loomwright plan\n",
        "pip install uv && uv run pytest\n",
    ]


def test_all_cautions_stand_in_their_order() -> None:
    text = " ".join(TEXT.split())
    at = [text.index(f"{number}. {caution}") for number, caution in enumerate(CAUTIONS, start=1)]
    assert len(at) == 12 and at == sorted(at)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(SOURCE)))
def test_every_path_that_a_page_names_is_there(page: Path) -> None:
    named = NAMED_PATH.findall(page.read_text(encoding="utf-8"))
    assert named
    assert [path for path in named if not any(SOURCE.glob(path.rstrip("/")))] == []
