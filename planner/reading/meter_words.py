"""What people write down when they read a meter: ohms, a beep, no way through."""

import re
from unicodedata import normalize

from planner.model.readings import Says
from planner.reading.ohm_words import take_ohms
from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, plain

NOT_TAKEN = frozenset({"", "?", "??", "n/a", "not taken", "not read", "not measured", "unknown"})
CLOSED = frozenset(
    {"beep", "beeps", "bleeps", "buzz", "buzzes", "rings", "closed", "joined", "connected", "continuity"}
    | {"short", "shorted", "yes", "y", "x", "on"}
)
OPEN = frozenset(
    {"open", "ol", "o.l", "o.l.", "0l", "0.l", "0.l.", "inf", "infinite", "infinity", "∞", "over limit"}
    | {
        "overload",
        "over range",
        "off scale",
        "no",
        "n",
        "no beep",
        "silent",
        "no continuity",
        "nothing",
        "none",
    }
)
_BARE = re.compile(NUMBER)
_VOLTS = re.compile(rf"({NUMBER})\s*(m)?\s*[vV](?:olts?)?")
# Dirt and fingers at the tips read so: nothing in a vehicle's wiring is meant to have as much.
LEAK_OHMS = 1e6
MOST_JUNCTION_V = 3.0  # what a meter's diode range shows at most
LEAST_JUNCTION_V = 0.05  # a joint shows less there
EXPECTED = "ohms such as 0.2, 3.5 ohm or 1.2k; beeps; open or OL; 0.6 V on the diode range; or nothing"


def read_between(text: str) -> Says | None:
    """What a meter said, None if it was not read; NotUnderstood if nobody can tell."""
    words = plain(text)
    if words in NOT_TAKEN:
        return None
    if words in CLOSED:
        return "closed"
    if words in OPEN:
        return "open"
    written = normalize("NFKC", text).strip()
    if _BARE.fullmatch(written):
        return _ohms(read_number(written))
    if (ohms := take_ohms(written)) and not ohms[1]:
        return _ohms(ohms[0])
    if volts := _VOLTS.fullmatch(written):
        return _volts(read_number(volts[1]) * (1e-3 if volts[2] else 1.0), text)
    raise NotUnderstood(f"{text!r} is no reading", EXPECTED)


def _ohms(ohms: float) -> Says:
    return "open" if ohms >= LEAK_OHMS else ohms


def _volts(volts: float, text: str) -> Says:
    if volts > MOST_JUNCTION_V:
        message = f"{text!r} is more than a diode range shows: the part is not free of voltage"
        raise NotUnderstood(message, "reading it again with every wire off the part")
    return "closed" if volts < LEAST_JUNCTION_V else "drop"
