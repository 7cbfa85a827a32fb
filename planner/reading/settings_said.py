"""What is said of the controls where none is named: ``pressed``, ``main beam on``, ``doors shut``."""

import re
from collections.abc import Iterable

from planner.reading.place_words import name_words
from planner.reading.seen_words import SeenWords, in_singular
from planner.reading.typed_values import NotUnderstood, plain

_STATE = re.compile(r"(?P<what>.+?)\s+(?P<label>on|off|pressed|pulled|shut|open|lit)")
_REST = ("off", "shut")


def settings_said(text: str, about: str, words: SeenWords) -> dict[str, str]:
    """The variables that a text sets, and their labels; ``about`` is what is said to happen then.

    A label by itself is that of the control that has to do with what is told of: "horn silent, pressed".
    Where a load is named, it is what makes that work.

    Raises NotUnderstood with what would be accepted.
    """
    if alone := _by_label(text, about, words):
        return alone
    try:
        return dict((words.setting(text),))
    except NotUnderstood:
        if found := _by_state(text, about, words):
            return found
        raise


def _by_label(text: str, about: str, words: SeenWords) -> dict[str, str]:
    """The setting that a label alone means: of several controls that have it the one most spoken of."""
    wanted = plain(text)
    has = {
        name: label
        for name, (labels, meanings, _) in words.variables.items()
        for label, meaning in zip(labels, meanings, strict=True)
        if wanted in (plain(label), plain(meaning))
    }
    return _spoken_of(has, about, words) if has else {}


def _by_state(text: str, about: str, words: SeenWords) -> dict[str, str]:
    said = _STATE.fullmatch(plain(text))
    if said is None:
        return {}
    what, label = said["what"], said["label"]
    has = {
        name: label
        for name, (labels, _, called) in words.variables.items()
        if label in labels and set(_typed(what)) <= set(_typed(called))
    }
    if has and label in _REST and all(words.variables[name][0][0] == label for name in has):
        return has  # doors shut: all of them
    if has and (one := _spoken_of(has, f"{what} {about}", words)):
        return one
    return {} if label in _REST else dict(words.ways_on(what))


def _spoken_of(has: dict[str, str], about: str, words: SeenWords) -> dict[str, str]:
    """Of some settings the one whose control shares most words with what is told; none if several do."""
    if len(has) == 1:
        return has
    told = set(_typed(about))
    shared = {name: len(told & set(_typed(f"{words.variables[name][2]} {name}"))) for name in has}
    most = max(shared.values())
    best = [name for name, count in shared.items() if count == most]
    return {best[0]: has[best[0]]} if most and len(best) == 1 else {}


def _typed(text: str) -> Iterable[str]:
    return name_words(in_singular(re.sub(r"[/.]", " ", text)))
