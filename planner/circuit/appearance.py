"""How a load appears at a current, and the currents at which one appearance turns into another.

Shares of rated power; the limits stay away from a quarter, which two equal lamps in series hit exactly.
Common practice, no source.
"""

from collections.abc import Callable
from functools import cache

GLOWS_FROM = 0.02
DIM_FROM = 0.2
FULL_FROM = 0.7
OVER_FROM = 1.5
RUNS_FROM = 0.3  # from here a motor turns its cam
GAUGE_STEP = 10  # a gauge is read to a tenth of its scale, in percent


@cache
def judge_load(kind: str, rated_amps: float) -> Callable[[float], object]:
    """A function from amps to how a load of this kind and rating appears."""

    def judge_power(amps: float) -> object:
        share = (amps / rated_amps) ** 2
        if share < GLOWS_FROM:
            return "off"
        if share < DIM_FROM:
            return "glows"
        if share < FULL_FROM:
            return "dim"
        return "full" if share < OVER_FROM else "over"

    def judge_gauge(amps: float) -> object:
        percent = round(100 * abs(amps) / rated_amps / GAUGE_STEP) * GAUGE_STEP
        return f"reads {percent} %" if percent else "off"

    return judge_gauge if kind == "gauge" else judge_power


@cache
def limits_of(kind: str, rated_amps: float) -> tuple[float, ...]:
    """Currents in A, rising, between which every judgement of a load stays the same."""
    if kind == "gauge":
        steps = range(1, 2 * 100 // GAUGE_STEP, 2)  # halves of a step: where rounding turns
        return tuple(rated_amps * GAUGE_STEP * half / 200 for half in steps)
    shares = (GLOWS_FROM, DIM_FROM, RUNS_FROM, FULL_FROM, OVER_FROM)
    return tuple(rated_amps * share**0.5 for share in shares)


def percent_read(appearance: str) -> int | None:
    """The share of its scale that an instrument reads, in percent, more than 100 at its stop; else None."""
    percent = appearance.removeprefix("reads ").removesuffix(" %")
    return int(percent) if percent != appearance and percent.isdigit() else None
