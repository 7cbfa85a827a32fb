"""Which place of a loom people mean by a title or a name, British or American."""

import re
from collections.abc import Mapping
from difflib import get_close_matches

from planner.model.loom import Loom
from planner.model.search import SYNONYMS, words_of
from planner.reading.typed_values import plain

# Little words may be marks as well: a, in, on.
_LEFT_OUT = frozenset({"the"})
Words = tuple[str, ...]
# "L/H", "N/S": a stroke that parts no place from its mark.
_SIDE = re.compile(r"\b(?:([LR])/(H)|([NO])/(S))\b", re.IGNORECASE)
_COMMON: Mapping[str, str] = {
    phrase: group[0]
    for phrase, group in sorted(
        ((phrase, group) for group in SYNONYMS for phrase in group[1:]), key=lambda pair: -len(pair[0])
    )
}


class PlaceWords:
    """Places and zones by the words of their names and titles: one way for lists, tables and readings."""

    def __init__(self, places: Mapping[str, str], zones: Mapping[str, str] | None = None) -> None:
        """Take the titles of places and zones by their names; an empty title is none."""
        self.places: dict[Words, dict[str, None]] = {}
        self.zones: dict[Words, dict[str, None]] = {}
        self.begun: dict[str, frozenset[str]] = {}  # all words that a place is called by
        for name, title in places.items():
            # "wiper switch, dash" is also called wiper switch, if no other is.
            for text in (name.replace(".", " "), title, title.partition(",")[0]):
                self._note(self.places, text, name)
            said = f"{title} {name.replace('.', ' ')}"
            self.begun[name] = frozenset((*words_of(plain(said)), *name_words(said)))
        for name, title in (zones or {}).items():
            for text in (name, title):
                self._note(self.zones, text, name)
        self.titles: Mapping[str, str] = {
            text: name for name, title in places.items() for text in (title or name, name)
        }

    @classmethod
    def of(cls, loom: Loom) -> "PlaceWords":
        """The places and zones of a loom."""
        places = {name: place.title or "" for name, place in loom.places.items()}
        return cls(places, {name: zone.title or "" for name, zone in loom.zones.items()})

    def _note(self, found: dict[Words, dict[str, None]], text: str, name: str) -> None:
        if words := name_words(text):
            found.setdefault(words, {})[name] = None

    def places_called(self, text: str) -> tuple[str, ...]:
        """The places that are called just so, in the order of the loom."""
        return tuple(self.places.get(name_words(text), ()))

    def zones_called(self, text: str) -> tuple[str, ...]:
        """The zones that are called just so."""
        return tuple(self.zones.get(name_words(text), ()))

    def places_begun(self, text: str) -> tuple[str, ...]:
        """The places of whose words each of these is one or begins one: ``motor`` of the wiper motor."""
        typed = [words for words in (words_of(plain(text)), name_words(text)) if words]
        return tuple(
            place
            for place, known in self.begun.items()
            if any(all(any(k.startswith(word) for k in known) for word in words) for words in typed)
        )

    def near(self, text: str) -> list[str]:
        """Places with a name or title like this one, nearest first, three at most."""
        typed = set(name_words(text))
        alike = get_close_matches(plain(text), list(self.titles), n=6, cutoff=0.5)
        sharing = sorted(
            (title for title in self.titles if typed.intersection(name_words(title))),
            key=lambda title: -len(typed.intersection(name_words(title))),
        )
        return list(dict.fromkeys(self.titles[title] for title in (*sharing, *alike)))[:3]


def with_plain_sides(text: str) -> str:
    """A text with ``LH`` for ``L/H`` and ``NS`` for ``N/S``."""
    return _SIDE.sub(lambda found: "".join(filter(None, found.groups())), text)


def name_words(text: str) -> Words:
    """The words of a text that matter, British and American ones for the same thing made one."""
    said = " ".join(words_of(re.sub(r"[.'’_]", " ", plain(with_plain_sides(text)))))
    for phrase, common in _COMMON.items():
        said = re.sub(rf"\b{re.escape(phrase)}\b", common, said)
    # In any order, but each as often as it stands: "side lamp left / lamp" names a lamp's lamp terminal.
    return tuple(sorted(word for word in said.split() if word not in _LEFT_OUT))
