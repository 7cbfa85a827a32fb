"""The places that a person's wire list names, and the parts of the catalogue that may be there."""

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any
from unicodedata import normalize

from planner.model.catalogue import Catalogue
from planner.model.loom import PLACE_PATTERN
from planner.model.part import Part
from planner.model.search import SYNONYMS, answering, find_parts, head_of, words_of
from planner.reading.end_text import earth_zone, is_elsewhere, split_end
from planner.reading.place_words import Words, name_words
from planner.reading.wire_list import WireList

MOST_NAMED = 3
WORDS_OF_A_THING = 2  # of a longer phrase the last word may say nothing: "battery cut off"
# Where a part sits on the vehicle is no word of what it is.
_SIDES = frozenset(
    {"left", "right", "front", "rear", "nearside", "offside", "upper", "lower", "inner", "outer", "lh", "rh"}
    | {"ns", "os"}
)


@dataclass(frozen=True, slots=True)
class ListedPlace:
    """A place by what the list calls it, the marks that wires go to there, and parts that have them all."""

    name: str  # as a loom would name it
    title: str
    marks: tuple[str, ...]
    parts: tuple[str, ...]


def listed_places(wires: WireList, catalogue: Catalogue) -> tuple[ListedPlace, ...]:
    """The places in the order of the list; earth, feeds, joiners and loose ends are none."""
    found: dict[str, dict[str, None]] = {}
    ends: list[Mapping[str, Any]] = [end for row in wires.rows for end in row.data["ends"]]
    things = _things(catalogue)
    said = [_of_a_fuse(*split_end(end["at"], things)) for end in ends if not is_elsewhere(end["at"])]
    first: dict[Words, str] = {}  # a left headlight is the left headlamp that was named before
    said = [(first.setdefault(name_words(title), " ".join(title.split())), mark) for title, mark in said]
    titles = {title for title, _ in said}
    for title, mark in said:
        is_thing = title.rpartition(" ")[2].casefold() in things
        place, rest = (title, "") if is_thing else _within(title, titles)
        found.setdefault(place, {})[f"{rest} {mark}".strip()] = None
    names: dict[str, str] = {}
    for title in found:
        name = _name(title)
        names[title] = name if name not in names.values() else f"{name}-{len(names)}"
    return tuple(
        ListedPlace(names[title], title, tuple(marks), _may_be(title, tuple(marks), catalogue))
        for title, marks in found.items()
    )


def _of_a_fuse(title: str, mark: str) -> tuple[str, str]:
    """``Fuse box 2 out`` is a terminal of the fuse box, though ``horn 2`` is another horn."""
    box, _, number = title.rpartition(" ")
    is_fuse = number.isdecimal() and name_words(box)[:2] == ("box", "fuse")
    return (box, f"{number} {mark}".strip()) if is_fuse else (title, mark)


def listed_zones(wires: WireList) -> dict[str, str]:
    """The zones in which the list has earths: what a loom would name them, and what the list calls them."""
    said = [earth_zone(end["at"]) for row in wires.rows for end in row.data["ends"]]
    return {_name(zone): zone for zone in said if zone}


def _may_be(title: str, marks: tuple[str, ...], catalogue: Catalogue) -> tuple[str, ...]:
    """Parts that are called so, those first that have every mark; ``dash`` in "switch, dash" is left out."""
    # The name of a place in a loom begins with where it is: ``dash.wiper-switch``.
    words = words_of(
        title.partition(",")[0].rpartition(".")[2] if _is_name(title) else title.partition(",")[0]
    )
    plain = [word for word in words if word.isalpha() and word not in _SIDES]  # no "&", no number
    called = find_parts(plain or words, catalogue).called
    wholly = {part.part for part in find_parts(words, catalogue).called}  # the number may count or say 13

    def missing(part: Part) -> tuple[int, int]:
        """Marks that it has not, and wired terminals more or fewer than the list has marks."""
        there = {mark.casefold() for mark in part.terminals}
        wired = sum(terminal.by == "wire" for terminal in part.terminals.values())
        return sum(mark.casefold() not in there for mark in marks if mark), abs(wired - len(marks))

    # A fuse box for headlamps is called after them, but it is none.
    heads = {part.part: frozenset(words_of(head_of(part.title))) for part in called}
    itself = answering(plain or words, heads)
    best = sorted(called, key=lambda p: (p.part not in itself, missing(p), p.part not in wholly))
    return tuple(part.part for part in best[:MOST_NAMED])


def _things(catalogue: Catalogue) -> frozenset[str]:
    """What parts are in one word, British and American: switch, lamp, light, horn.

    Of a family the last word, of a title the one before it says more: ``motor`` of "Wiper motor with a ...".
    """
    parts = catalogue.parts.values()
    called = {words_of(text)[-1] for part in parts for text in (part.family, head_of(part.title))}
    others = {
        phrase.split()[-1]
        for group in SYNONYMS
        if any(phrase.split()[-1] in called for phrase in group)
        for phrase in group
        if len(phrase.split()) <= WORDS_OF_A_THING
    }
    return frozenset(called | others)


def _within(title: str, titles: Collection[str]) -> tuple[str, str]:
    """A place of the list by whose title another begins, and what is left: ``fuse box``, ``fed``."""
    words = title.split()
    for end in range(1, len(words)):
        if (start := " ".join(words[:end])) in titles:
            return start, " ".join(words[end:])
    return title, ""


def _is_name(title: str) -> bool:
    return re.fullmatch(PLACE_PATTERN, title) is not None


def _name(title: str) -> str:
    if _is_name(title):
        return title
    plain = normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "place"
