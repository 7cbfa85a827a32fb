"""The limits of a reading, in the digits that a hand-held meter shows."""

from collections.abc import Callable
from math import ceil, floor, isinf

OPEN_FROM_OHMS = 3e3  # a wire that is off is told as open from here on: more leaks through a vehicle


def step(reading: float) -> float:
    """The last digit that is worth telling: tenths, whole ones from twenty on, then two digits."""
    size = abs(reading)
    return 0.1 if size < 20.0 else 1.0 if size < 200.0 else 10.0 if size < 2000.0 else 100.0


def up(reading: float) -> float:
    """A limit, rounded up to what a meter shows."""
    return _at(reading, ceil)


def down(reading: float) -> float:
    """A limit, rounded down to what a meter shows."""
    return _at(reading, floor)


def near(reading: float) -> float:
    """A limit, rounded to what a meter shows."""
    return _at(reading, round)


def _at(reading: float, whole: Callable[[float], int]) -> float:
    if isinf(reading):
        return reading
    last = step(reading)
    return round(whole(round(reading / last, 6)) * last, 6) + 0.0  # no minus zero
