"""A printed command can be copied: a shell takes its lines for the words that were meant."""

import shlex
import subprocess

import pytest

from planner.sheets.build.command import command
from planner.sheets.render.layout import lay_out
from planner.sheets.render.markdown import as_markdown
from planner.sheets.render.terminal import as_text
from planner.sheets.sheet import Section, Sheet

QUOTES = f"""/Anne's van {60 * "x"}/the "old" one's"""
LONG = f"meter '/a folder/{'x' * 30}/job 1.yaml' --catalog '{'y' * 40}' --catalog /z/{'z' * 90} --log here"
APOSTROPHE = f"meter {shlex.quote(QUOTES)} --log here"


def taken_by_a_shell(lines: str) -> list[str]:
    """The words that a shell makes of lines that are pasted into it."""
    said = subprocess.run(["sh", "-c", f"printf '%s\\n' {lines}"], capture_output=True, text=True, check=True)
    return said.stdout.splitlines()


@pytest.mark.parametrize("words", ["meter whole-van", LONG, APOSTROPHE])
def test_a_shell_takes_the_printed_lines_for_the_words_that_were_meant(words: str) -> None:
    lines = command(words).lines
    assert taken_by_a_shell("\n".join(lines)) == shlex.split(words)
    too_long = [line.removesuffix("\\") for line in lines if len(line) > 76]
    assert all(len(shlex.split(line)) == 1 for line in too_long)  # one word that no shell could join again


def test_a_short_command_is_one_line_and_a_long_one_goes_on_behind_a_backslash() -> None:
    assert command("loomwright plan ").lines == ("loomwright plan",)
    assert [line.endswith(" \\") for line in command(LONG).lines] == [True, True, True, False]


def test_no_form_breaks_the_lines_of_a_command() -> None:
    sheet = Sheet("t", (Section("Head", (command(LONG),)),))
    for printed in (as_text(lay_out(sheet, 40)), as_markdown(sheet)):
        own = printed[printed.index("meter") :].removesuffix("```\n")
        assert taken_by_a_shell(own) == shlex.split(LONG)


def test_what_a_file_is_called_never_steers_a_terminal() -> None:
    sheet = Sheet("t", (Section("", (command("plan 'a\x1b[31mb'"),)),))
    assert as_text(lay_out(sheet, 80)).endswith("plan 'a [31mb'\n")
