"""The answer to one question of a hunt, as people type it: a reading, a look, yes or no."""

from collections.abc import Mapping

from planner.model.observations import ObservationKind
from planner.reading.meter_answers import DARK, DIM, LIT
from planner.reading.seen_phrases import in_plain_words
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood, plain

_YES: Mapping[str, frozenset[str]] = {
    "fuse": frozenset(("blown", "yes", "y", "gone", "burnt", "open", "broken")),
    "warm": frozenset(("warm", "hot", "yes", "y", "it is")),
}
_NO: Mapping[str, frozenset[str]] = {
    "fuse": frozenset(("sound", "no", "n", "good", "ok", "fine", "whole", "not blown", "intact")),
    "warm": frozenset(("cold", "cool", "no", "n", "not warm", "stays cold")),
}
_HINTS = {"fuse": "blown or sound", "warm": "warm or cold"}


def read_seen_answer(
    text: str, kind: ObservationKind, at: str, words: SeenWords
) -> tuple[ObservationKind, float | str]:
    """What was seen or read, and as what: a test lamp may be put where volts were asked for, or a meter.

    Raises NotUnderstood with what would be accepted.
    """
    said = plain(text).rstrip(".")
    if kind in ("volts", "lamp") and (lamp := _lamp(said)):
        return "lamp", lamp
    if kind == "looks":
        return kind, words.look(in_plain_words(text).removeprefix("it "), at)
    if kind == "sits":
        return kind, words.where(text, at)
    if kind == "ohms":
        return kind, words.ohms(text)
    if kind in ("volts", "lamp"):
        try:
            return "volts", words.volts(text)
        except NotUnderstood as error:
            hint = error.hint if kind == "volts" else f"lit, dim or dark, or {error.hint}"
            raise NotUnderstood(error.message, hint) from None
    if said in _YES[kind]:
        return kind, "yes"
    if said in _NO[kind]:
        return kind, "no"
    raise NotUnderstood(f"{text!r} says not how it is", _HINTS[kind])


def _lamp(said: str) -> str:
    """What a test lamp does; empty if that is not what was said."""
    return "lit" if said in LIT else "dim" if said in DIM else "dark" if said in DARK else ""
