"""The supply of a vehicle in people's words: ``12 V``, ``six volts``; ``negative earth``, ``minus``."""

import re

from planner.model.loom import Pole
from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, plain

USUAL_VOLTS = (6.0, 12.0, 24.0)  # of road vehicles: common practice, no source
_WORDS = {"six": 6.0, "twelve": 12.0, "twenty-four": 24.0, "twenty four": 24.0}
_VOLTS = re.compile(rf"(?P<number>{NUMBER}|[a-z -]+?)(?: ?(?:volts?|v))?(?: ?dc)?")
_POLES: dict[str, Pole] = {
    **dict.fromkeys(("negative", "neg", "minus", "-", "–", "−", "n", "black"), "negative"),
    **dict.fromkeys(("positive", "pos", "plus", "+", "p", "red"), "positive"),
}
_ABOUT_POLE = re.compile(r"\b(?:the|pole|post|terminal|side|is|to|earth(?:ed)?|ground(?:ed)?|body|chassis)\b")
_VOLTS_HINT = "6 V, 12 V or 24 V: a battery has about 2 V for each filler cap"
_POLE_HINT = "negative or positive: the battery's post whose cable goes to the body"


def read_supply_volts(text: str) -> float:
    """The nominal volts of a supply; NotUnderstood if they are none that vehicles have."""
    found = _VOLTS.fullmatch(plain(text))
    number = found["number"] if found else ""
    if number in _WORDS:
        return _WORDS[number]
    try:
        volts = read_number(number) if re.fullmatch(NUMBER, number) else 0.0
    except NotUnderstood:
        volts = 0.0
    if volts not in USUAL_VOLTS:
        raise NotUnderstood(f"{text!r} is no vehicle's nominal volts", _VOLTS_HINT)
    return volts


def read_pole(text: str) -> Pole:
    """The pole that is earthed; NotUnderstood if it is neither."""
    said = " ".join(_ABOUT_POLE.sub(" ", plain(text)).split())
    if said not in _POLES:
        raise NotUnderstood(f"{text!r} is no pole", _POLE_HINT)
    return _POLES[said]
