"""Reads another language's words: a JSON object with a text for each English one of ``messages.json``."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from string import Formatter

from planner.messages import MESSAGES
from planner.problems import FilePlace, InputError, Problem
from planner.reading.noting import note
from planner.reading.validate import suggest

MOST_BYTES = 2_000_000


def read_messages(path: Path) -> Mapping[str, str]:
    """What a file says for the texts that it has; raises InputError with all of it that cannot be used."""
    content = _content(path)
    try:
        data = json.loads(content)
    except (json.JSONDecodeError, RecursionError) as error:
        at = (error.lineno, error.colno) if isinstance(error, json.JSONDecodeError) else (0, 0)
        raise InputError([Problem(FilePlace(str(path), *at), "this is not JSON")]) from None
    if not isinstance(data, dict) or not all(isinstance(text, str) for text in data.values()):
        expected = "expected one JSON object that gives a text for each English text"
        raise InputError([Problem(FilePlace(str(path)), expected)])
    known: Mapping[str, str] = json.loads(MESSAGES.read_text(encoding="utf-8"))
    problems = list(_problems(data, known, content, path))
    if problems:
        raise InputError(problems)
    return {text: said for text, said in data.items() if said}


def _content(path: Path) -> str:
    note(path)
    try:
        with path.open("rb") as stream:
            content = stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise InputError([Problem(FilePlace(str(path)), error.strerror or str(error))]) from None
    if len(content) > MOST_BYTES:
        raise InputError([Problem(FilePlace(str(path)), f"the file is larger than {MOST_BYTES:,} bytes")])
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError([Problem(FilePlace(str(path)), "this is not text in UTF-8")]) from None


def _problems(
    data: Mapping[str, str], known: Mapping[str, str], content: str, path: Path
) -> Iterator[Problem]:
    """Yield texts that the program does not have, and translations that fill in other names."""
    for text, said in data.items():
        at = FilePlace(str(path), *_position(content, text))
        if text not in known:
            near = suggest(text, known)
            yield Problem(at, f"there is no English text {_short(text)!r}", hint=near or None)
        elif said and _names(said) != _names(text):
            wanted = ", ".join(sorted(f"{{{name}}}" for name in _names(text) or ()))
            yield Problem(at, f"the text for {_short(text)!r} has to fill in {wanted or 'nothing'}")


def _names(text: str) -> set[str] | None:
    """The names that a text fills in, with how they are written; None if its braces are wrong."""
    try:
        return {
            f"{name}:{how}" if how else name
            for _, name, how, _ in Formatter().parse(text)
            if name is not None
        }
    except ValueError:
        return None


def _position(content: str, text: str) -> tuple[int, int]:
    """The line and column at which a text stands as a key; 0 if it is written in a way of its own."""
    for key in (json.dumps(text, ensure_ascii=False), json.dumps(text)):
        if (found := content.find(key)) >= 0:
            return content.count("\n", 0, found) + 1, found - content.rfind("\n", 0, found)
    return 0, 0


def _short(text: str, most: int = 60) -> str:
    return text if len(text) <= most else f"{text[: most - 3]}..."
