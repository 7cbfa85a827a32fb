"""Ohms as people write them: ``0.3 ohm``, ``4.7 k ohm``, ``75R``, and as on a resistor: ``4k7``."""

import re
from unicodedata import normalize

from planner.reading.typed_numbers import NUMBER, read_number

_TIMES = {"": 1.0, "k": 1e3, "K": 1e3, "M": 1e6, "meg": 1e6, "m": 1e-3}
_UNIT = r"(?:[oO][hH][mM][sS]?|[Ωω]|[rR])(?![a-zA-Z0-9])"
_CODED = re.compile(rf"(\d{{1,6}})([rRkKM])(\d{{1,6}})(?![a-zA-Z0-9])\s*(?:{_UNIT})?[,;:]?\s*(.*)", re.DOTALL)
_NAMED = re.compile(
    rf"({NUMBER})\s*(?:(k|K|M|meg|m)?\s*{_UNIT}|(k|K|M|meg)(?![a-zA-Z0-9]))[,;:]?\s*(.*)", re.DOTALL
)


def take_ohms(text: str) -> tuple[float, str] | None:
    """The ohms that a text begins with, and what follows them; None if it begins with none.

    A bare number is none; NotUnderstood if a comma in it may stand before thousands.
    """
    written = normalize("NFKC", text).strip()
    if coded := _CODED.fullmatch(written):
        whole, letter, decimals, rest = coded.groups()
        return float(f"{whole}.{decimals}") * _TIMES.get(letter, 1.0), rest.strip()
    if named := _NAMED.fullmatch(written):
        return read_number(named[1]) * _TIMES[named[2] or named[3] or ""], named[4].strip()
    return None
