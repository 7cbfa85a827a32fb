"""A file of observations, read and written: ``seen:`` and a list of lines as a person would type them.

The log of a hunt is such a file.
"""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from planner.model.observations import Observation
from planner.problems import InputError, Problem
from planner.reading.seen_lines import read_lines
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood
from planner.reading.validate import met
from planner.reading.yaml_source import read_document
from planner.reading.yaml_text import scalar_text

MOST_SEEN = 200  # observations: whoever has more hunts for more than one mistake


def read_seen(path: Path, words: SeenWords) -> list[Observation]:
    """The observations of a file; raises InputError with the place of everything that cannot be used."""
    document = read_document(path)
    data = document.data
    lines = data.get("seen") if isinstance(data, dict) else data
    if not isinstance(lines, list):
        hint = "a list under seen:, a line for each observation, such as - left side lamp off"
        raise InputError([Problem(document.value_place(()), f"this is no list, got {met(data)}", hint=hint)])
    base: tuple[str | int, ...] = ("seen",) if isinstance(data, dict) else ()
    found, problems = [], []
    if len(lines) > MOST_SEEN:
        place = document.value_place(base)
        problems.append(Problem(place, f"{len(lines):,} observations; {MOST_SEEN} at most"))
    for number, line in enumerate(lines[:MOST_SEEN]):
        place = document.value_place((*base, number))
        try:
            if not isinstance(line, str):
                raise NotUnderstood(f"expected a line of words, got {met(line)}", "left side lamp off")
            found += [replace(each, place=place) for each in read_lines(line, words)]
        except NotUnderstood as error:
            problems.append(Problem(place, error.message, hint=error.hint))
    if problems:
        raise InputError(problems)
    return found


def seen_text(title: str, lines: Sequence[str]) -> str:
    """A file of observations as text, which reads back as the same."""
    out = [f"# What was seen and read: {title}".replace("\n", " "), "seen:" if lines else "seen: []"]
    return "\n".join([*out, *(f"  - {scalar_text(line)}" for line in lines)]) + "\n"
