"""The title at the head of a picture, in as many lines as it needs."""

from planner.pictures.svg import Drawing
from planner.pictures.text import wrap

MARGIN = 4.0
HEAD = 9.0  # of a title of one line, down to what is drawn
_SIZE, _LINE, _MOST = 4.0, 5.0, 3


def title_lines(title: str, width: float) -> tuple[str, ...]:
    """The title in lines, in a picture of some width."""
    return wrap(title, _SIZE, width - 2 * MARGIN, _MOST, bold=True)


def head_of(lines: tuple[str, ...]) -> float:
    """How far below the margin the picture itself begins, in mm."""
    return HEAD + (len(lines) - 1) * _LINE


def draw_title(drawing: Drawing, lines: tuple[str, ...]) -> None:
    """Write the title into the upper left corner."""
    for n, line in enumerate(lines):
        drawing.text((MARGIN, MARGIN + 3.2 + n * _LINE), line, _SIZE, bold=True)
