"""Conductors: the resistance of copper wire by its cross-section, and the cross-sections of gauges."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from planner.model.published import (
    Published,
    around,
    must_be_positive,
    no_row,
    once,
    share_between,
    weakest,
)

PLAIN = "copper plain"
PREFERRED, SECOND = "ISO 6722", "IEC 60228 class 5"
# Copper's rise of resistance per kelvin from 20 °C, as used by FAA AC 43.13-1B p. 11-22 (254.5 and 234.5).
RISE_PER_KELVIN = 0.00393
REFERENCE_CELSIUS = 20.0


@dataclass(frozen=True, slots=True)
class Conductor:
    """One row of a conductor standard: the most resistance that a cross-section may have at 20 °C."""

    mm2: float
    ohms_per_km: float
    metal: str
    standard: str
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class Gauge:
    """One American wire gauge, solid round copper."""

    awg: str
    mm2: float
    source: str
    basis: str


def ohms_per_metre(conductors: Sequence[Conductor], mm2: float, celsius: float) -> Published:
    """The resistance of plain copper wire.

    Between rows the product of resistance and area is interpolated over the area, for it is nearly
    constant; beyond the ends the end row's product is kept.
    """
    must_be_positive("mm2", mm2)
    factor = 1 + RISE_PER_KELVIN * (celsius - REFERENCE_CELSIUS)
    if not (isfinite(factor) and factor > 0):
        raise ValueError(f"the law of copper's resistance does not hold at {celsius:g} °C")
    by_area: dict[float, Conductor] = {}
    for standard in (SECOND, PREFERRED):
        by_area |= {c.mm2: c for c in conductors if c.standard == standard and c.metal == PLAIN}
    if not by_area:
        raise no_row("conductors", f"{PLAIN}, {PREFERRED} or {SECOND}")
    low, high = around([by_area[area] for area in sorted(by_area)], mm2, lambda c: c.mm2)
    share = share_between(low.mm2, high.mm2, mm2)
    product = (1 - share) * low.ohms_per_km * low.mm2 + share * high.ohms_per_km * high.mm2
    rows = once(f"{c.source}, {c.mm2:g} mm²" for c in (low, high))
    if not low.mm2 <= mm2 <= high.mm2:
        rows += f", its resistance times area kept for {mm2:g} mm²"
    return Published(factor * product / mm2 / 1000, rows, weakest((low.basis, high.basis)))


def gauge_area(gauges: Sequence[Gauge], awg: str) -> Published | None:
    """The cross-section of a gauge in mm², None if the table does not list it."""
    for gauge in gauges:
        if gauge.awg == awg:
            return Published(gauge.mm2, gauge.source, gauge.basis)
    return None
