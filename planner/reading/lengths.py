"""Lengths as people type them: metres, centimetres, millimetres, inches, feet and yards."""

import re
from collections.abc import Iterator

from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, plain

# Metres of each unit, by what people call it. The inch is 25.4 mm exactly.
METRES = {
    "m": 1.0,
    "metre": 1.0,
    "metres": 1.0,
    "meter": 1.0,
    "meters": 1.0,
    "cm": 0.01,
    "mm": 0.001,
    "in": 0.0254,
    "inch": 0.0254,
    "inches": 0.0254,
    '"': 0.0254,
    "''": 0.0254,
    "ft": 0.3048,
    "foot": 0.3048,
    "feet": 0.3048,
    "'": 0.3048,
    "yd": 0.9144,
    "yard": 0.9144,
    "yards": 0.9144,
}
_ABOUT = re.compile(r"(?:about|approx\.?|ca\.?|~)\s*")
_FEET = frozenset({"ft", "foot", "feet", "'"})
_UNIT = "|".join(re.escape(unit) for unit in sorted(METRES, key=len, reverse=True))
_ONE = re.compile(rf"(?:({NUMBER})(?![\d/])\s*)?(?:(\d{{1,2}})/([1-9]\d?)\s*)?({_UNIT})?\.?(?![a-z])\s*")
_PRIMES = str.maketrans(
    {
        "\N{PRIME}": "'",
        "\N{DOUBLE PRIME}": '"',
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{FRACTION SLASH}": "/",
    }
)
_EXAMPLES = "0.45 m, 45 cm, 450 mm, 18 in or 1 ft 6 in"
LONGEST_METRES = 60.0


def read_length(text: str, unit: str | None = None) -> float:
    """A length in metres; ``unit`` is that of numbers that name none, such as ``m`` or ``mm``.

    Raises
    ------
    NotUnderstood
        If it is no length, its unit is not said, or it is longer than a wire in a vehicle can be.
    """
    typed = _ABOUT.sub("", plain(text.translate(_PRIMES)), count=1).translate(_PRIMES)
    parts = list(_parts(text, typed))
    if len(parts) == 1 and not parts[0][1] and unit is None:
        raise NotUnderstood(f"{text!r} does not say its unit", f"{_EXAMPLES}, or the unit in the heading")
    if [said in _FEET for _, said in parts[:1]] + [said for _, said in parts[1:]] == [True, ""]:
        parts[1] = (parts[1][0], "in")  # what follows feet is inches
    sizes = [METRES[said or unit or "m"] for _, said in parts]
    # Of several numbers each says its unit, the larger first: 1 ft 6 in, but not 3 4.
    if len(parts) > 1 and not (all(said for _, said in parts) and sizes == sorted(set(sizes), reverse=True)):
        raise NotUnderstood(f"{text!r} is no length", _EXAMPLES)
    metres = sum(number * size for (number, _), size in zip(parts, sizes, strict=True))
    if sizes != [1.0]:
        metres = round(metres, 4)  # the dust of binary fractions
    if not 0 < metres <= LONGEST_METRES:
        raise NotUnderstood(
            f"{text!r} is {metres:g} m; a wire is above 0 and at most {LONGEST_METRES:g} m", _EXAMPLES
        )
    return metres


def _parts(text: str, typed: str) -> Iterator[tuple[float, str]]:
    """Each number of a length with its unit, which is empty where none is said."""
    at = 0
    while at < len(typed) or not typed:
        found = _ONE.match(typed, at)
        if not found or not (found[1] or found[2]):
            raise NotUnderstood(f"{text!r} is no length" if text else "no length is given", _EXAMPLES)
        yield (
            (read_number(found[1]) if found[1] else 0.0)
            + (int(found[2]) / int(found[3]) if found[2] else 0.0),
            found[4] or "",
        )
        at = found.end()
