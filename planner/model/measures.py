"""Sizes and lengths as people say them, in both systems where people differ."""

from collections.abc import Sequence

from planner.messages import tr
from planner.model.conductors import Gauge

METRES_IN_A_FOOT = 0.3048  # exact, by the international yard of 1959
INCHES_IN_A_FOOT = 12
_SOLD = tuple(str(awg) for awg in range(2, 31, 2))  # odd gauges are seldom sold; common practice, no source


def length_words(metres: float) -> str:
    """A length in metres and in feet and inches: ``1.5 m (4 ft 11 in)``; inches are rounded up."""
    inches = -(-round(1000 * metres / METRES_IN_A_FOOT * INCHES_IN_A_FOOT) // 1000)
    feet, rest = divmod(inches, INCHES_IN_A_FOOT)
    if not feet:
        return tr("{metres:g} m ({inches} in)", metres=metres, inches=rest)
    if not rest:
        return tr("{metres:g} m ({feet} ft)", metres=metres, feet=feet)
    return tr("{metres:g} m ({feet} ft {inches} in)", metres=metres, feet=feet, inches=rest)


def size_words(mm2: float, gauges: Sequence[Gauge]) -> str:
    """A cross-section in mm2 and as the next even gauge that is not thinner: ``1.5 mm2 (AWG 14)``."""
    sold = [gauge for gauge in gauges if gauge.awg in (*_SOLD, "0", "00", "000", "0000")]
    thick = [gauge for gauge in sold if gauge.mm2 >= mm2]
    if not thick:
        return tr("{mm2:g} mm2", mm2=mm2)
    awg = min(thick, key=lambda gauge: gauge.mm2).awg
    return tr("{mm2:g} mm2 (AWG {awg})", mm2=mm2, awg=awg)
