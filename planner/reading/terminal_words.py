"""Terminals as people point at them: ``motor 53``, ``53 on the wiper motor``, ``fuse box 3``."""

import re
from collections.abc import Iterator

from planner.model.catalogue import Catalogue
from planner.model.loom import Loom
from planner.model.wording import address_words
from planner.reading.typed_values import NotUnderstood, plain
from planner.reading.validate import suggest

_SPLIT = re.compile(r"[\s,:.]+")
_FILLER = frozenset({"the", "on", "of", "at", "terminal", "mark", "pin", "no", "number", "to"})


def read_terminal(text: str, loom: Loom, catalogue: Catalogue) -> str:
    """The address of a terminal of a loom, from its mark and words of its place.

    Raises
    ------
    NotUnderstood
        If no terminal answers to the words, or several do.
    """
    address = plain(text).removeprefix("to ")
    exact = [":".join(pair) for pair in _terminals(loom, catalogue) if ":".join(pair).casefold() == address]
    if len(exact) == 1:
        return exact[0]
    words = [word for word in _SPLIT.split(plain(text).replace("'", "")) if word and word not in _FILLER]
    found = [
        (place, mark)
        for place, mark in _terminals(loom, catalogue)
        if any(_answers(loom, place, words[:n] + words[n + 1 :]) and word == mark.casefold()
               for n, word in enumerate(words))
    ]  # fmt: skip
    if len(found) == 1:
        return ":".join(found[0])
    if found:
        meant = " or ".join(address_words(loom, ":".join(pair)) for pair in found[:4])
        raise NotUnderstood(f"{text!r} may mean {len(found)} terminals", meant)
    near = suggest(plain(text), [plain(loom.place_title(place)) for place in loom.places])
    hint = "a mark and its part, such as 53 on the wiper motor"
    raise NotUnderstood(f"no terminal is called {text!r}", f"{hint} ({near})" if near else hint)


def _terminals(loom: Loom, catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    for place, fitted in loom.places.items():
        for mark in catalogue.parts[fitted.part].terminals:
            yield place, mark


def _answers(loom: Loom, place: str, words: list[str]) -> bool:
    """Whether each word is one of the place's title, or starts one: ``headlight`` too is a headlamp."""
    known = _SPLIT.split(f"{plain(loom.place_title(place))} {place}".replace("-", " "))
    known += [word.replace("lamp", "light") for word in known]
    return bool(words) and all(any(name.startswith(word) for name in known) for word in words)
