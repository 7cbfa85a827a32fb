"""What a person says in one line, which may be of several loads: ``side lamps dim when braking``."""

import re
from collections.abc import Sequence
from dataclasses import replace

from planner.model.observations import Observation, Settings
from planner.reading.look_words import is_look
from planner.reading.seen_line import READING, read_line
from planner.reading.seen_phrases import in_plain_words
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood

_EVERY = re.compile(r"(?:both|all)(?: the| of the)? (?P<said>.+)")
_SIDES = frozenset(("left", "right"))


def read_lines(text: str, words: SeenWords, held: Settings = ()) -> tuple[Observation, ...]:
    """The observations of one line; several lamps that do the same may be named in one word.

    It is read as it stands, or else in plainer words. Raises NotUnderstood with what would be accepted.
    """
    failed: NotUnderstood | None = None
    plainer = text.strip() if READING.match(text.strip()) else in_plain_words(text)
    for said in dict.fromkeys((text.strip(), plainer, *_with_label(plainer))):
        try:
            found = _of_several(said, words, held) or (read_line(said, words, held),)
        except NotUnderstood as error:
            failed = failed if said not in (text.strip(), plainer) else error
            continue
        return tuple(replace(each, said=text) for each in found)
    assert failed is not None
    raise failed


def _with_label(said: str) -> tuple[str, ...]:
    """A line whose last words may say how the control is: ``fan dead on slow``."""
    head, on, label = said.rpartition(" on ")
    return (f"{head} with {label}",) if on and " with " not in said else ()


def _of_several(said: str, words: SeenWords, held: Settings) -> tuple[Observation, ...]:
    """One look for each load that is named; none if several cannot be read from the line."""
    every = _EVERY.fullmatch(said)
    what, _, when = (every["said"] if every else said).partition(" with ")
    parts = what.split()
    for cut in range(len(parts) - 1, 0, -1):
        tail = re.sub("^(?:are|is|stays?|remains?) ", "", " ".join(parts[cut:]))
        loads = words.loads_called(" ".join(parts[:cut]), is_every=every is not None)
        if not is_look(tail) or not loads or (every and said.startswith("both") and not _are_both(loads)):
            continue
        found = [read_line(f"{load} {tail}{when and f' with {when}'}", words, held) for load in loads]
        own = found if every else [each for each in found if not _is_of_other_side(each, words)]
        return tuple(own or found)
    return ()


def _is_of_other_side(seen: Observation, words: SeenWords) -> bool:
    """Whether a load works with a control the other way: nobody means it by "indicators, turn left"."""
    said = dict(seen.settings)
    return any(said.get(name, label) != label for name, label in words.ways.get(seen.at, ()))


def _are_both(loads: Sequence[str]) -> bool:
    """Whether loads are two, or as many on the left as on the right."""
    sides = [load.partition(".")[0] for load in loads]
    return len(loads) == 2 or (set(sides) == _SIDES and 2 * sides.count("left") == len(sides))
