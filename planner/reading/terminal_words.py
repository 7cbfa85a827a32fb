"""Terminals as people point at them: ``motor 53``, ``53 on the wiper motor``, ``fuse box 3``."""

import re
from collections.abc import Iterator

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.wording import address_words
from planner.reading.place_words import PlaceWords
from planner.reading.typed_values import NotUnderstood, plain

_SPLIT = re.compile(r"[\s,:.]+")
_FILLER = frozenset({"the", "on", "of", "at", "terminal", "mark", "pin", "no", "number", "to"})


def read_terminal(text: str, loom: Loom, catalogue: Catalogue) -> str:
    """The address of a terminal of a loom, from its mark and words of its place.

    Raises
    ------
    NotUnderstood
        If no terminal answers to the words, or several do.
    """
    words = PlaceWords.of(loom)
    address = plain(text).removeprefix("to ")
    terminals = list(_terminals(loom, catalogue))
    exact = [":".join(pair) for pair in terminals if ":".join(pair).casefold() == address]
    if len(exact) == 1:
        return exact[0]
    said = [word for word in _SPLIT.split(plain(text).replace("'", "")) if word and word not in _FILLER]
    begun = {n: set(words.places_begun(" ".join(said[:n] + said[n + 1 :]))) for n in range(len(said))}
    found = [
        (place, mark)
        for place, mark in terminals
        if any(word == mark.casefold() and place in begun[n] for n, word in enumerate(said))
    ]
    just_so = [pair for pair in found if plain(address_words(loom, ":".join(pair))) == plain(text)]
    if len(found) == 1 or len(just_so) == 1:
        return ":".join((just_so or found)[0])
    if found:
        meant = " or ".join(address_words(loom, ":".join(pair)) for pair in found[:4])
        raise NotUnderstood(f"{text!r} may mean {len(found)} terminals", meant)
    there = [
        f"{', '.join(mark for at, mark in terminals if at == place)} on the {loom.place_title(place)}"
        for place in words.near(text)
    ]
    hint = f": {'; or '.join(there)}" if there else ", such as 53 on the wiper motor"
    raise NotUnderstood(f"no terminal is called {text!r}", f"a mark and its part{hint}")


def _terminals(loom: Loom, catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    for place, fitted in loom.places.items():
        for mark in catalogue.parts[fitted.part].terminals:
            yield place, mark
