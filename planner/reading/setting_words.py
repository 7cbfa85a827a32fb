"""Settings that people name by what then works: ``headlights on``, ``braking``, ``turning left``."""

import re
from collections.abc import Mapping, Sequence

from planner.reading.place_words import name_words

_LIT = re.compile(r"(?:the\s+)?(?P<what>.+?)[\s-]*(?:lights?|lamps?)\s+(?:is\s+|are\s+)?(?:on|lit)")
_BRAKING = re.compile(r"braking|(?:the\s+)?brakes?\s+(?:pedal\s+)?(?:is\s+|are\s+)?(?:on|down|applied)")
_TURNING = re.compile(r"(?:turning|indicating|signall?ing)\s+(?P<way>left|right)")


def setting_by_what_works(text: str, labels: Mapping[str, Sequence[str]]) -> tuple[str, str] | None:
    """The variable that is meant and its label, of those with some labels; None if that is not clear."""
    said = text.strip().casefold()
    found: list[tuple[str, str]] = []
    if lit := _LIT.fullmatch(said):
        wanted = name_words(f"{lit['what']} lamp")
        found = [
            (v, each) for v, own in labels.items() for each in own if name_words(f"{each} lamp") == wanted
        ]
    elif _BRAKING.fullmatch(said):
        found = [(v, "pressed") for v, own in labels.items() if "brake" in v and "pressed" in own]
    elif turning := _TURNING.fullmatch(said):
        found = [(v, turning["way"]) for v, own in labels.items() if {"left", "right"} <= set(own)]
    return found[0] if len(found) == 1 else None
