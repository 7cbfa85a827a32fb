"""YAML in tests with the place of each expected fault marked in it."""

import textwrap

from planner.problems import InputError

MARK = "¶"


def marked(text: str) -> tuple[str, list[tuple[int, int]]]:
    """The text without its marks, and the line and column of each."""
    text = textwrap.dedent(text).removeprefix("\n")
    places = []
    for number, line in enumerate(text.split("\n"), start=1):
        parts = line.split(MARK)
        column = 1
        for part in parts[:-1]:
            column += len(part)
            places.append((number, column))
    return text.replace(MARK, ""), places


def places_of(error: InputError, file: str | None = None) -> list[tuple[int, int]]:
    """Where the problems of an error stand, those of one file or all."""
    return [(p.place.line, p.place.column) for p in error.problems if file in (None, p.place.file)]
