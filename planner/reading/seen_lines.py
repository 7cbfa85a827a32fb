"""What a person says in one line, which may be of several loads: ``side lamps dim when braking``."""

import re
from dataclasses import replace

from planner.model.observations import Observation, Settings
from planner.reading.seen_line import read_line
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood

_WHEN = re.compile(r"\s+(?:when|while)\s+")
_SIDE = re.compile(r"(?P<said>.+?)\s+on the (?P<side>left|right)(?P<rest>\s+with\s.+)?")
_EVERY = re.compile(r"(?:both|all)(?:\s+the|\s+of\s+the)?\s+(?P<said>.+)")


def read_lines(text: str, words: SeenWords, held: Settings = ()) -> tuple[Observation, ...]:
    """The observations of one line; several lamps that do the same may be named in one word.

    Raises NotUnderstood with what would be accepted.
    """
    said = text.strip() if " with " in text else _WHEN.sub(" with ", text.strip(), count=1)
    try:
        return (replace(read_line(said, words, held), said=text),)
    except NotUnderstood as error:
        if beside := _SIDE.fullmatch(said):
            said = f"{beside['side']} {beside['said']}{beside['rest'] or ''}"
        found = _of_several(said, words, held)
        if not found:
            raise error from None
        return tuple(replace(each, said=text) for each in found)


def _of_several(said: str, words: SeenWords, held: Settings) -> tuple[Observation, ...]:
    """One look for each load that is named; none if the line cannot be read so either."""
    every = _EVERY.fullmatch(said)
    named = every["said"] if every else said
    is_both = every is not None and said.startswith("both")
    try:
        return (read_line(named, words, held),)
    except NotUnderstood:
        pass
    what, _, when = named.partition(" with ")
    parts = what.split()
    for cut in range(len(parts) - 1, 0, -1):
        loads = words.loads_called(" ".join(parts[:cut]), is_every=every is not None)
        lines = [" ".join((load, *parts[cut:])) + (f" with {when}" if when else "") for load in loads]
        if lines and not (is_both and len(lines) != 2):
            try:
                return tuple(read_line(line, words, held) for line in lines)
            except NotUnderstood:
                continue
    return ()
