"""Reads what is ticked on a bench sheet: a line for each step, as text, or as JSON.

A line holds a step's number, a range of numbers (``1-7``) or a step's id; a tick box before it does no harm.
``part PLACE PART``, ``broken WIRE ADDRESS`` and ``cut WIRE`` say what turned out otherwise. In a file whose
name ends in .json the lines are the entries of two lists, ``done`` and ``found``. What begins with # says
nothing here: a sheet has boxes that belong to no step.
"""

import json
import re
from collections.abc import Iterator
from pathlib import Path

from planner.model.ticks import BrokenEnd, CutWire, Found, OtherPart, Tick, Ticks
from planner.problems import FilePlace, InputError, Problem

MOST_BYTES = 1_000_000
_BOX = re.compile(r"^(?:[-*]\s+)?\[[xX]\]\s*")
_EMPTY_BOX = re.compile(r"^(?:[-*]\s+)?\[\s*\]")
_NUMBER = re.compile(r"^(\d{1,6})[.:]?$")
_RANGE = re.compile(r"^(\d{1,6})\s*-\s*(\d{1,6})$")
_FORMS = {
    "part": ("part PLACE PART, such as: part dash.switch wiper-switch-two-speed", 2),
    "broken": ("broken WIRE ADDRESS, such as: broken W36 dash.switch:M", 2),
    "cut": ("cut WIRE, such as: cut W36", 1),
}


def read_ticks(path: Path) -> Ticks:
    """What a file says; raises InputError with the place of everything in it that cannot be used."""
    content = _content(path)
    is_json = path.suffix.lower() == ".json"
    entries = _json_lines(content, path) if is_json else list(_text_lines(content, path))
    done: list[Tick] = []
    found: list[Found] = []
    problems: list[Problem] = []
    for text, place in entries:
        try:
            for one in _read(text, place):
                if isinstance(one, Tick):
                    done.append(one)
                else:
                    found.append(one)
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return Ticks(tuple(done), tuple(found))


def _content(path: Path) -> str:
    try:
        with path.open("rb") as stream:
            content = stream.read(MOST_BYTES + 1)
        if len(content) > MOST_BYTES:
            raise _fault(FilePlace(str(path)), f"the file is larger than {MOST_BYTES:,} bytes")
        return content.decode("utf-8-sig")
    except OSError as error:
        raise _fault(FilePlace(str(path)), error.strerror or str(error)) from None
    except UnicodeDecodeError:
        raise _fault(FilePlace(str(path)), "this is not text in UTF-8") from None


def _json_lines(content: str, path: Path) -> list[tuple[str, FilePlace]]:
    try:
        data = json.loads(content)
    except (json.JSONDecodeError, RecursionError) as error:
        at = (error.lineno, error.colno) if isinstance(error, json.JSONDecodeError) else (0, 0)
        raise _fault(FilePlace(str(path), *at), "this is not JSON") from None
    lists = {key: data.get(key, []) for key in ("done", "found")} if isinstance(data, dict) else {}
    said = [entry for entries in lists.values() if isinstance(entries, list) for entry in entries]
    fits = all(isinstance(entries, list) for entries in lists.values())
    if not lists or not fits or not all(isinstance(s, int | str) and not isinstance(s, bool) for s in said):
        raise _fault(FilePlace(str(path)), 'expected {"done": [numbers or ids], "found": [lines]}')
    return [(str(entry), FilePlace(str(path))) for entry in said if not str(entry).startswith("#")]


def _text_lines(content: str, path: Path) -> Iterator[tuple[str, FilePlace]]:
    """Yield the lines that say something; an empty box is a step that is not done."""
    for number, line in enumerate(content.splitlines(), 1):
        text = line.partition(" #")[0].strip()
        if text and not text.startswith("#") and not _EMPTY_BOX.match(text):
            yield text, FilePlace(str(path), number, line.index(text[0]) + 1)


def _read(text: str, place: FilePlace) -> Iterator[Tick | Found]:
    said = _BOX.sub("", text)
    word, *rest = said.split()
    if word in _FORMS and not (word == "cut" and len(rest) > 1):
        form, count = _FORMS[word]
        if len(rest) != count:
            raise _fault(place, f"{said!r} is not {form}")
        yield _found(word, rest, place)
    elif among := _RANGE.match(said):
        first, last = int(among[1]), int(among[2])
        if first > last:
            raise _fault(place, f"the range {said!r} ends before it begins")
        yield from (Tick(str(number), place) for number in range(first, last + 1))
    else:
        number = _NUMBER.match(word)
        yield Tick(number[1] if number and (not rest or text != said) else said, place)


def _found(word: str, rest: list[str], place: FilePlace) -> Found:
    if word == "part":
        return OtherPart(rest[0], rest[1], place)
    return BrokenEnd(rest[0], rest[1], place) if word == "broken" else CutWire(rest[0], place)


def _fault(place: FilePlace, message: str) -> InputError:
    return InputError([Problem(place, message)])
