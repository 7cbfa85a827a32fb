"""Prints a sheet: with colour on a terminal, as plain text into anything else."""

import sys
from collections.abc import Iterable, Mapping
from shutil import get_terminal_size
from types import MappingProxyType
from typing import TextIO

from planner.sheets.render.layout import Line, lay_out
from planner.sheets.sheet import Meaning, Sheet

PIPED_WIDTH = 80
WIDEST = 100  # longer lines are hard to follow
NARROWEST = 40
STYLES: Mapping[Meaning, str] = MappingProxyType(
    {
        "plain": "",
        "strong": "bold",
        "good": "green",
        "bad": "bold red",
        "warn": "yellow",
        "note": "cyan",
        "quiet": "dim",
    }
)
# What catalogues and rules write and a narrow character set lacks.
_PLAINER = str.maketrans(
    {
        "\N{MULTIPLICATION SIGN}": "x",
        "\N{EN DASH}": "-",
        "\N{EM DASH}": "-",
        "\N{HORIZONTAL ELLIPSIS}": "...",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{LEFT SINGLE QUOTATION MARK}": "'",
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{RIGHTWARDS ARROW}": "->",
        "\N{GREEK CAPITAL LETTER OMEGA}": "ohm",
        "\N{OHM SIGN}": "ohm",
        "\N{MICRO SIGN}": "u",
        "\N{SUPERSCRIPT TWO}": "2",
        "\N{DEGREE SIGN}": " deg",
        "\N{MIDDLE DOT}": ".",
        "\N{NO-BREAK SPACE}": " ",
        **dict.fromkeys("┌┬┐├┼┤└┴┘", "+"),
        "─": "-",
        "│": "|",
        "●": "o",
    }
)


def show(sheet: Sheet, file: TextIO | None = None) -> None:
    """Print a sheet to a file, standard output if none is given."""
    out = sys.stdout if file is None else file
    if out.isatty():
        width = min(max(get_terminal_size().columns, NARROWEST), WIDEST)
        _show_in_colour(lay_out(sheet, width), width, out)
    else:
        out.write(fit_encoding(as_text(lay_out(sheet, PIPED_WIDTH)), out.encoding))


def as_text(lines: Iterable[Line]) -> str:
    """Lines without their meanings."""
    return "".join("".join(cell.text for cell in line).rstrip() + "\n" for line in lines)


def fit_encoding(text: str, encoding: str | None) -> str:
    """The text in characters that an encoding has; those without a plain likeness become question marks."""
    encoding = encoding or "utf-8"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return text.translate(_PLAINER).encode(encoding, "replace").decode(encoding)
    return text


def _show_in_colour(lines: Iterable[Line], width: int, out: TextIO) -> None:
    from rich.console import Console  # noqa: PLC0415  a pipe need not pay for colour
    from rich.text import Text  # noqa: PLC0415

    console = Console(file=out, width=width, highlight=False, markup=False, emoji=False)
    for line in lines:
        text = Text(no_wrap=True, end="\n")
        for cell in line:
            text.append(fit_encoding(cell.text, out.encoding), STYLES[cell.meaning] or None)
        console.print(text, no_wrap=True, crop=False, soft_wrap=True)
