"""The places that a person's wire list names, and the parts of the catalogue that may be there."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from unicodedata import normalize

from planner.model.catalogue import Catalogue
from planner.model.part import Part
from planner.model.search import find_parts, words_of
from planner.reading.end_words import earth_zone, is_elsewhere, split_end
from planner.reading.wire_list import WireList

MOST_NAMED = 3


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
    for end in ends:
        if not is_elsewhere(end["at"]):
            title, mark = split_end(end["at"]) or (end["at"], "")
            found.setdefault(" ".join(title.split()), {})[mark] = None
    names: dict[str, str] = {}
    for title in found:
        name = _name(title)
        names[title] = name if name not in names.values() else f"{name}-{len(names)}"
    return tuple(
        ListedPlace(names[title], title, tuple(marks), _may_be(title, tuple(marks), catalogue))
        for title, marks in found.items()
    )


def listed_zones(wires: WireList) -> dict[str, str]:
    """The zones in which the list has earths: what a loom would name them, and what the list calls them."""
    said = [earth_zone(end["at"]) for row in wires.rows for end in row.data["ends"]]
    return {_name(zone): zone for zone in said if zone}


def _may_be(title: str, marks: tuple[str, ...], catalogue: Catalogue) -> tuple[str, ...]:
    """Parts that are called so, those first that have every mark; ``dash`` in "switch, dash" is left out."""
    head = title.partition(",")[0]
    called = find_parts(words_of(head), catalogue).called

    def missing(part: Part) -> int:
        there = {mark.casefold() for mark in part.terminals}
        return sum(mark.casefold() not in there for mark in marks if mark)

    return tuple(part.part for part in sorted(called, key=missing)[:MOST_NAMED])


def _name(title: str) -> str:
    plain = normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "place"
