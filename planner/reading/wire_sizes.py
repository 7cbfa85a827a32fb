"""Wire sizes as people type them: mm², American gauge, or a number of strands and their diameter."""

import re
from collections.abc import Sequence
from math import pi

from planner.model.conductors import Gauge, gauge_area
from planner.reading.typed_numbers import NUMBER, read_number
from planner.reading.typed_values import NotUnderstood, plain

THICKEST_MM2 = 120.0
_SQUARE = re.compile(rf"({NUMBER})\s*(mm2|mm\^2|qmm|sqmm|sq\.? ?mm|mm sq\.?|square mm|mmq)?")
_GAUGE = re.compile(r"(?:awg|gauge|ga)?\.?\s*#?\s*(0{1,4}|[1-4]/0|\d{1,2})\s*(?:awg|gauge|ga)?\.?")
_NAMES_GAUGE = re.compile("awg|gauge|ga")
_STRANDS = re.compile(rf"(\d{{1,4}})\s*[/x×]\s*({NUMBER})\s*(mm|in|inch|inches|\"|'')?\.?")
# No cable of a vehicle has thinner or thicker strands: common practice, no source.
_THINNEST_STRAND_MM, _THICKEST_STRAND_MM = 0.05, 1.1
_MM_PER_INCH = 25.4
_EXAMPLES = "1.5 mm2, AWG 16, 28/0.30 or 14/.012 in"


def names_gauge(text: str) -> bool:
    """Whether a size says that it is a gauge, for which a table of gauges is needed."""
    return bool(_NAMES_GAUGE.search(plain(text)))


def read_size(text: str, gauges: Sequence[Gauge], unit: str | None = None) -> float:
    """A cross-section in mm²; ``unit`` is that of numbers that name none: ``mm2`` or ``awg``.

    Strands count with their full round area, a gauge with that of solid wire (ASTM B258); cable of a gauge
    has up to a tenth less copper.

    Raises
    ------
    NotUnderstood
        If it is no size, or if it may be more than one.
    """
    typed = plain(text)
    strands = _STRANDS.fullmatch(typed)
    if strands and not re.fullmatch(r"[1-4]/0", typed):
        mm2 = _strand_area(text, int(strands[1]), read_number(strands[2]), strands[3])
    else:
        mm2 = _area(text, typed, gauges, unit)
    if not 0 < mm2 <= THICKEST_MM2:
        raise NotUnderstood(
            f"{text!r} is {mm2:g} mm2; a wire is above 0 and at most {THICKEST_MM2:g}", _EXAMPLES
        )
    return mm2


def _area(text: str, typed: str, gauges: Sequence[Gauge], unit: str | None) -> float:
    square, gauge = _SQUARE.fullmatch(typed), _GAUGE.fullmatch(typed)
    if gauge and (names_gauge(typed) or (unit == "awg" and not (square and square[2]))):
        listed = gauge_area(gauges, f"{'0' * int(gauge[1][0])}" if "/" in gauge[1] else gauge[1])
        if listed is None:
            raise NotUnderstood(f"{text!r}: no such gauge is listed", _EXAMPLES)
        return round(listed.value, 3)
    if not square:
        raise NotUnderstood(f"{text!r} is no wire size" if text else "no size is given", _EXAMPLES)
    # A whole number alone may be a gauge, one with decimals cannot.
    if not square[2] and unit is None and square[1].isdecimal():
        raise NotUnderstood(
            f"{text!r} may be mm2 or a gauge",
            f"{square[1]} mm2 or AWG {square[1]}, or the unit in the heading",
        )
    if not square[2] and unit == "awg":
        raise NotUnderstood(f"{text!r} is no gauge", f"{square[1]} mm2, if that is meant")
    return read_number(square[1])


def _strand_area(text: str, count: int, diameter: float, unit: str | None) -> float:
    in_mm = diameter * (_MM_PER_INCH if unit not in (None, "mm") else 1.0)
    # Inches without a sign are told by the size: strands of .012 mm do not exist.
    if unit is None and diameter < _THINNEST_STRAND_MM:
        in_mm = diameter * _MM_PER_INCH
    if not count or not _THINNEST_STRAND_MM <= in_mm <= _THICKEST_STRAND_MM:
        raise NotUnderstood(f"{text!r}: no cable has such strands ({in_mm:g} mm)", _EXAMPLES)
    return round(count * pi / 4 * in_mm**2, 3)
