"""A command that is printed to be copied: on a line of its own, or on several that a shell joins again."""

import re

from planner.sheets.sheet import Drawing

_WIDTH = 76  # letters of a line: a terminal of 80 and a page of paper take it
_INDENT = "    "
_ON = "\\"
_WORD = re.compile(
    r"""(?:[^\s'"]|'[^']*'|"[^"]*")+"""
)  # a quoted one may hold blanks, and no shell joins lines within it


def command(words: str) -> Drawing:
    """The lines of a command; one that is too long goes on below, behind a backslash."""
    lines: list[str] = []
    for word in _WORD.findall(words):
        if lines and len(f"{lines[-1]} {word} {_ON}") <= _WIDTH:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(f"{_INDENT}{word}" if lines else word)
    return Drawing((*(f"{line} {_ON}" for line in lines[:-1]), lines[-1]))
