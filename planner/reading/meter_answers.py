"""One answer to a test of the meter page: ``11.8``, ``11,8 V``, ``0.3 ohm``, ``4k7``, ``open``, ``lit``."""

import re
from math import inf
from unicodedata import normalize

from planner.model.meter_log import Read
from planner.model.meter_page import MeterTest
from planner.reading.meter_words import CLOSED, OPEN
from planner.reading.ohm_words import take_ohms
from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, plain

LIT = frozenset({"lit", "bright", "on", "full", "shines"})
DIM = frozenset({"dim", "weak", "glows", "half", "faint", "dull"})
DARK = frozenset({"dark", "off", "out", "not lit", "unlit"})
FLASHES = frozenset({"flashes", "flashing", "blinks", "blinking", "winks"})
SKIP = frozenset({"", "skip", "-", "?", "not read", "not taken"})
MOST_SHARE = 2.0  # of the vehicle's volts: its battery and generator give less
MOST_OHMS = 1e9
LEAST_OPEN = 2e7  # what a hand-held meter shows at most
_BARE = re.compile(rf"([+-]?)\s*({NUMBER})")
_VOLTS = re.compile(rf"([+-]?)\s*({NUMBER})\s*(m)?\s*v(?:olts?)?(?: dc)?")


def read_answer(text: str, test: MeterTest, supply_volts: float) -> Read | None:
    """What was typed, as volts, ohms or a lamp; None if it was not read.

    Raises NotUnderstood if it has the wrong unit, cannot be, or means nothing.
    """
    words = plain(text).rstrip(".")
    if words in SKIP:
        return None
    if words in LIT:
        return "lit"
    if words in DIM:
        return "dim"
    if words in DARK:
        return "dark"
    if words in FLASHES:
        if test.dark is None:
            raise NotUnderstood(f"{text.strip()!r}: nothing flashes there, it is steady", "lit, dim or dark")
        return "flashes"
    return _ohms(text, words) if test.unit == "ohm" else _volts(text, words, supply_volts)


def _volts(text: str, words: str, supply_volts: float) -> float:
    most = MOST_SHARE * supply_volts
    accepted = f"volts from -{most:g} to {most:g}, such as 11.8; or lit, dim, dark"
    if words in OPEN or words in CLOSED or take_ohms(normalize("NFKC", text)):
        raise NotUnderstood(f"{text.strip()!r} is no reading of volts, and this test is in volts", accepted)
    found = _VOLTS.fullmatch(words) or _BARE.fullmatch(words)
    if found is None:
        raise NotUnderstood(f"{text.strip()!r} is no reading", accepted)
    volts = read_number(found[2]) * (1e-3 if found.re is _VOLTS and found[3] else 1.0)
    if volts > most:
        raise NotUnderstood(f"{text.strip()!r} cannot be on a vehicle of {supply_volts:g} V", accepted)
    return -volts if found[1] == "-" else volts


def _ohms(text: str, words: str) -> float:
    accepted = "ohms, such as 0.3, 4k7 or open; or lit, dim, dark"
    if words in OPEN:
        return inf
    if words in CLOSED:
        raise NotUnderstood(f"{text.strip()!r}: a meter beeps below some 30 ohm, too coarse here", accepted)
    if _VOLTS.fullmatch(words):
        raise NotUnderstood(f"{text.strip()!r} is in volts, and this test is in ohms", accepted)
    if words.startswith("-"):
        raise NotUnderstood(f"{text.strip()!r}: ohms are never negative; is the battery off?", accepted)
    bare = _BARE.fullmatch(words)
    known = (read_number(bare[2]), "") if bare else take_ohms(text)
    if known is None or known[1]:
        raise NotUnderstood(f"{text.strip()!r} is no reading", accepted)
    if known[0] > MOST_OHMS:
        raise NotUnderstood(f"{text.strip()!r} is more than any meter reads", accepted)
    return inf if known[0] >= LEAST_OPEN else known[0]
