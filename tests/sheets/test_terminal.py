"""Printing: colour on a terminal only, the same words everywhere, and any character set survives."""

import io
import re

import pytest
from hand_made import PLAN, text_of

from planner.sheets.build.plan import plan_sheet
from planner.sheets.render.terminal import fit_encoding, show
from planner.sheets.sheet import Section, Sheet, say

ESCAPE = re.compile(r"\x1b\[[0-9;]*m")
SHEET = plan_sheet(PLAN, with_reasons=True)


class Terminal(io.StringIO):
    """Looks like a terminal to whoever asks."""

    encoding = "utf-8"

    def isatty(self) -> bool:
        return True


@pytest.fixture
def on_terminal(monkeypatch: pytest.MonkeyPatch) -> Terminal:
    """A colour terminal of 80 columns, whatever the tests run in."""
    for name in ("NO_COLOR", "FORCE_COLOR", "TTY_COMPATIBLE", "TTY_INTERACTIVE"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLUMNS", "80")
    return Terminal()


def printed(text: str, encoding: str) -> str:
    """What a file with this encoding holds after a sheet with one text was printed."""
    raw = io.BytesIO()
    with io.TextIOWrapper(raw, encoding=encoding, write_through=True) as file:
        show(Sheet("T", (Section("", (say(text),)),)), file)
        return raw.getvalue().decode(encoding)


def test_a_terminal_gets_colour_and_the_same_words(on_terminal: Terminal) -> None:
    show(SHEET, on_terminal)
    coloured = on_terminal.getvalue()
    assert "\x1b[1;31m" in coloured
    lines = [line.rstrip() for line in ESCAPE.sub("", coloured).splitlines()]
    assert lines == text_of(SHEET).splitlines()


def test_no_color_is_respected(on_terminal: Terminal, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    show(SHEET, on_terminal)
    assert "\x1b[1;31m" not in on_terminal.getvalue()
    assert "\x1b[31m" not in on_terminal.getvalue()


def test_a_pipe_gets_no_escapes_and_80_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    file = io.StringIO()
    show(SHEET, file)
    assert file.getvalue() == text_of(SHEET, 80)


@pytest.mark.parametrize(("columns", "width"), [("20", 40), ("60", 60), ("300", 100)])
def test_a_terminal_is_followed_within_what_can_be_read(
    on_terminal: Terminal, monkeypatch: pytest.MonkeyPatch, columns: str, width: int
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    show(SHEET, on_terminal)
    lines = [line.rstrip() for line in ESCAPE.sub("", on_terminal.getvalue()).splitlines()]
    assert lines == text_of(SHEET, width).splitlines()


def test_square_brackets_in_a_text_are_no_markup(on_terminal: Terminal) -> None:
    show(Sheet("T", (Section("", (say("a [bold] wire :car:"),)),)), on_terminal)
    assert "a [bold] wire :car:" in ESCAPE.sub("", on_terminal.getvalue())


def test_standard_output_is_used_when_no_file_is_given(capsys: pytest.CaptureFixture[str]) -> None:
    show(Sheet("T", (Section("", (say("words"),)),)))
    assert capsys.readouterr().out == "T\n=\n\nwords\n"


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437", "utf-8"])
def test_any_character_set_takes_a_sheet(encoding: str) -> None:
    text = printed(
        "2 \N{MULTIPLICATION SIGN} 60 \N{OHM SIGN} caf\N{LATIN SMALL LETTER E WITH ACUTE} \N{SNOWMAN}",
        encoding,
    )
    assert text.splitlines()[-1].startswith("2 ")


def test_a_narrow_character_set_gets_likenesses() -> None:
    assert (
        fit_encoding("2 \N{MULTIPLICATION SIGN} 60 \N{OHM SIGN} \N{EN DASH} \N{SNOWMAN}", "ascii")
        == "2 x 60 ohm - ?"
    )


def test_a_wide_character_set_gets_the_text_as_it_is() -> None:
    assert fit_encoding("2 \N{MULTIPLICATION SIGN} 60", "utf-8") == "2 \N{MULTIPLICATION SIGN} 60"
    assert fit_encoding("2 \N{MULTIPLICATION SIGN} 60", None) == "2 \N{MULTIPLICATION SIGN} 60"
