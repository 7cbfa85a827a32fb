"""How a load looks, as people say it; of a gauge, where its needle is."""

import re
from collections.abc import Mapping

from planner.model.elements import Gauge
from planner.model.observations import Look
from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, plain


def _by_word(looks: Mapping[Look, str]) -> Mapping[str, Look]:
    return {word: look for look, words in looks.items() for word in words.split(", ")}


_LOOKS = _by_word(
    {
        "off": "off, dark, dead, nothing, out, not lit, does not work, no, unlit, still, silent, "
        "does not run, do not work, do not run, does nothing, doesn't work, don't work, doesn't run, "
        "not working, do nothing, stands still, does not light, doesn't light, do not light",
        "glows": "glows, glow, glowing, faint, glimmers, very dim, barely lit",
        "dim": "dim, weak, slow, half, too dim, dull, runs slowly, run slowly",
        "full": "full, on, lit, bright, works, work, run, normal, yes, runs, ok, fine, steady, lit steadily, "
        "light, sounds, sound, lights, does not flash, flashes not, on steadily, works as it should, "
        "as it should",
        "over": "over, too bright, glaring, brighter, too loud, too fast, runs fast, runs too fast",
        "flashes": "flashes, flash, flashing, blinks, blink, beats",
        "flashes slowly": "flashes slowly, flash slowly, flashes slow, slow flashing, blinks slowly, "
        "flash slow",
        "flashes fast": "flashes fast, flash fast, fast flashing, flashes quickly, blinks fast, "
        "flash quickly, flashes too fast, flash too fast",
    }
)
# A needle is held against where it should be: nobody knows what is in the tank.
_NEEDLES = _by_word(
    {
        "off": "does not move, at rest, zero, stays down, on its stop, not at all",
        "dim": "low, too low, a bit low, less than it should",
        "full": "right, true, correctly, normally, as it should",
        "over": "high, too high, a bit high, more than it should, off the scale, over the top",
    }
)
_LEVELS = {
    "empty": 0.0,
    "a quarter": 25.0,
    "quarter": 25.0,
    "half": 50.0,
    "three quarters": 75.0,
    "full": 100.0,
}
_PERCENT = re.compile(rf"(?:at )?({NUMBER})\s*(?:%|percent)")
_READS = re.compile(r"(?:reads|shows|indicates|points to) (.+)")


def is_look(text: str) -> bool:
    """Whether a text may say how a load looks; what a gauge reads may be a mark of its face."""
    said = plain(text)
    return said in _LOOKS or said in _NEEDLES or bool(_PERCENT.fullmatch(said) or _READS.fullmatch(said))


def read_look(text: str, called: str, gauge: Gauge | None) -> Look | float:
    """How a load looks that people call so; percent of its scale where a gauge reads a mark.

    Raises NotUnderstood with what would be accepted.
    """
    said = plain(text)
    if gauge is None:
        if said in _LOOKS:
            return _LOOKS[said]
        raise NotUnderstood(
            f"{text!r} says not how {called} looks",
            "off, glows, dim, full, too bright, flashes, flashes fast, flashes slowly",
        )
    reads = _READS.fullmatch(said)
    shown = reads[1] if reads else said
    if percent := _PERCENT.fullmatch(shown):
        return read_number(percent[1])
    marks = {plain(mark): 100.0 * share for mark, share in gauge.marks.items()}
    if shown in marks and (reads or shown not in _LOOKS):
        return marks[shown]
    if not marks and shown in _LEVELS and (reads or shown not in _LOOKS):
        return _LEVELS[shown]
    look = _NEEDLES.get(shown) or _LOOKS.get(shown)
    if look is not None and not look.startswith("flashes"):
        return "dim" if look == "glows" else look
    known = ", ".join(f"reads {mark}" for mark in marks or _LEVELS)
    raise NotUnderstood(
        f"{text!r} says not where the needle of {called} is",
        f"does not move, reads too low, reads too high, reads as it should, reads 40 %, {known}",
    )
