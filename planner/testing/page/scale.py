"""Which readings a mistake makes, with what a meter and a vehicle may be off."""

from math import inf, isinf

from planner.model.meter_limits import OPEN_FROM_OHMS
from planner.testing.page.tolerance import meter_error

LEAST_OFF = {"V": 0.3, "ohm": 0.5}  # by which a wrong reading may be off what is computed of it, at least
OFF_SHARE = 0.1  # and in all: what a mistake leaves is not looked at as closely as a good circuit


def spread(reading: float, unit: str) -> tuple[float, float]:
    """From what to what a meter reads where so much was computed of a mistake."""
    if isinf(reading):
        return OPEN_FROM_OHMS, inf
    off = max(LEAST_OFF[unit], OFF_SHARE * abs(reading)) + meter_error(reading, unit)
    low = reading - off
    return (max(low, 0.0) if unit == "ohm" else low), reading + off
