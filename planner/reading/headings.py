"""Which heading of a table means which column, however people write it."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from unicodedata import normalize

from planner.problems import FilePlace, Problem
from planner.reading.raw_table import RawCell

_WORD = re.compile(r"[^\W_]+")
_NUMBERED = re.compile(r"\s*[.#]?\d{1,2}\Z")
MOST_NAMED = 6  # of the headings that a column may have
_NEAR = 0.75
# What people put around the word that counts: "cable colour", "comes from", "where it goes to".
_FILLERS = frozenset(
    {
        "a",
        "about",
        "approx",
        "cable",
        "comes",
        "coming",
        "faded",
        "goes",
        "going",
        "is",
        "it",
        "lead",
        "leads",
    }
    | {"of", "runs", "running", "the", "where", "wire", "wires"}
)


@dataclass(frozen=True, slots=True)
class Column:
    """A column that a table may have: its name, other headings for it, whether it has to be there.

    ``many`` columns may stand several times or be numbered (``to``, ``to 2``); the second is found
    under ``to 2``. Cells of ``lines`` columns may hold several lines. Headings that mean nothing else and
    match ``like`` are columns of their own, under what they say. Where people write ``From`` over two cells,
    or ``Terminal`` once beside each end, the column right of this one is ``from terminal``: ``beside`` are
    the headings that say so, and no heading at all does.
    """

    name: str
    also: tuple[str, ...] = ()
    required: bool = False
    many: bool = False
    lines: bool = False
    like: re.Pattern[str] | None = None
    beside: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Headings:
    """Where in a row each column stands, by its name; ``unread`` are headings that mean none."""

    at: dict[str, int]
    unread: dict[int, str]
    problems: tuple[Problem, ...]


def match_headings(row: Sequence[RawCell], columns: Sequence[Column]) -> Headings:
    """Match a row of headings: case, blanks, punctuation, the order of words and fillers do not matter."""
    meant = {key: column for column in columns for text in (column.name, *column.also) for key in _keys(text)}
    at: dict[str, int] = {}
    unread: dict[int, str] = {}
    problems: list[Problem] = []
    for index, cell in enumerate(row):
        column = _column(cell.text, meant)
        if column is None and any(c.like and c.like.fullmatch(cell.text) for c in columns):
            column = Column(cell.text)
        if column is None:
            unread |= {index: cell.text} if cell.text else {}
        elif column.many:
            taken = sum(name == column.name or name.startswith(f"{column.name} ") for name in at)
            at[column.name if not taken else f"{column.name} {taken + 1}"] = index
        elif column.name in at:
            first = row[at[column.name]]
            related = ((first.place, f"the other is {first.text!r}"),)
            message = f"two headings mean {column.name!r}"
            problems.append(Problem(cell.place, message, related, "another heading for the one that is not"))
        else:
            at[column.name] = index
    for name, index in _beside(row, columns, at):
        at[name] = index
        unread.pop(index, None)
    place = FilePlace(row[0].place.file, row[0].place.line, 1)
    for column in columns:
        if column.name not in at:
            problems += _missing(column, row, unread, place)
    return Headings(at, unread, tuple(problems))


def are_headings(texts: Iterable[str], columns: Sequence[Column]) -> bool:
    """Whether some texts say only what headings say: a second line, such as ``Part`` below ``From``."""
    known = {
        word
        for column in columns
        for heading in (column.name, *column.also, *column.beside)
        for word in _words(heading)
    }
    return all(words and known.issuperset(words) for words in map(_words, texts))


def _beside(row: Sequence[RawCell], columns: Sequence[Column], at: dict[str, int]) -> list[tuple[str, int]]:
    """The columns that are known by what they stand beside, where no heading of their own says them."""
    taken = set(at.values())
    found: list[tuple[str, int]] = []
    for column in (column for column in columns if column.beside):
        keys = {key for text in column.beside for key in _keys(text)}
        for name, left in at.items():
            own, index = f"{name} {column.beside[0]}", left + 1
            is_it = not (rest := name.removeprefix(column.name)) or (column.many and rest.strip().isdigit())
            if not is_it or own in at or index in taken or index >= len(row):
                continue
            said = row[index].text
            if not said or not keys.isdisjoint((*_keys(said), *_keys(said, without=_FILLERS))):
                found.append((own, index))
    return found


def _missing(
    column: Column, row: Sequence[RawCell], unread: dict[int, str], place: FilePlace
) -> list[Problem]:
    """A column without its heading is a fault if it is required, or if a heading is almost its own."""
    known = {text.casefold() for text in (column.name, *column.also)}
    for index, text in unread.items():
        if get_close_matches(text.casefold(), known, n=1, cutoff=_NEAR):
            message = f"the heading {text!r} is not known"
            return [Problem(row[index].place, message, hint=f"{column.name}, if that is meant; else another")]
    if not column.required:
        return []
    named = (column.name, *column.also)
    more = ", or another that says so" if len(named) > MOST_NAMED else ""
    hint = f"one of: {', '.join(named[:MOST_NAMED])}{more}"
    return [Problem(place, f"no heading says {column.name!r}", hint=hint)]


def _column(text: str, meant: dict[tuple[str, ...], Column]) -> Column | None:
    for key in (*_keys(text), *_keys(text, without=_FILLERS)):
        if key in meant:
            return meant[key]
    numbered = _NUMBERED.search(text)
    column = (
        next((meant[key] for key in _keys(text[: numbered.start()], _FILLERS) if key in meant), None)
        if numbered
        else None
    )
    return column if column is not None and column.many else None


def _keys(text: str, without: frozenset[str] = frozenset()) -> tuple[tuple[str, ...], ...]:
    """What headings are compared by: their words in any order, and their letters without blanks."""
    words = [word for word in _words(text) if word not in without]
    return (tuple(sorted(words)), ("".join(words),)) if words else ()


def _words(text: str) -> list[str]:
    return _WORD.findall(normalize("NFKC", text).casefold())
