"""Ampacity: what a wire carries for good by its cross-section, insulation, surroundings and neighbours."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, isfinite, log, sqrt

from planner.model.published import (
    Published,
    around,
    must_be_positive,
    no_row,
    once,
    share_between,
    weakest,
)

# What a vehicle's conductor is taken from, by the start of its row's source: the handbook's table of vehicle
# cable where it has the insulation (70 °C), else the regulation for small craft. Its better insulations carry
# less than the handbook's 70 °C; the two tables were made for different cable and are not mixed.
VEHICLE_CABLE, REGULATION = "Automotive-handbook cable table", "33 CFR 183.425 table 5"


@dataclass(frozen=True, slots=True)
class Ampacity:
    """One row: what a single copper conductor in free air carries continuously."""

    mm2: float
    insulation_c: float
    ambient_c: float
    amps: float
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class Bundling:
    """One row: the share that each of so many loaded cables carries when they lie in one bundle."""

    loaded: int
    factor: float
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class Insulation:
    """One row: how warm the conductor of a kind of cable may be for good."""

    word: str  # as a loom says it
    celsius: float
    source: str
    basis: str


def carried_amps(
    rows: Sequence[Ampacity],
    bundlings: Sequence[Bundling],
    mm2: float,
    insulation_c: float,
    ambient_c: float,
    bundled: int,
) -> Published:
    """What a wire carries for good; never more than a listed row of at least that area would allow."""
    must_be_positive("mm2", mm2)
    if not isfinite(ambient_c):
        raise ValueError(f"ambient_c must be a number, got {ambient_c}")
    single = _single(_of_insulation(rows, insulation_c), mm2, ambient_c)
    if bundled == 1:
        return single
    factor = _bundle_factor(bundlings, bundled)
    source = f"{single.source}; times {factor.value:.3g} for {bundled} loaded cables in one bundle"
    basis = weakest((single.basis, factor.basis))
    return Published(single.value * factor.value, f"{source} ({factor.source})", basis)


def _of_insulation(rows: Sequence[Ampacity], insulation_c: float) -> list[Ampacity]:
    """The rows of the best listed insulation that is no better than this one."""
    usable = [row for row in rows if row.source.startswith((VEHICLE_CABLE, REGULATION))]
    if not usable:
        raise no_row("ampacity", f"{VEHICLE_CABLE} or {REGULATION}")
    listed = {row.insulation_c for row in usable if row.insulation_c <= insulation_c}
    if not listed:
        least = min(row.insulation_c for row in usable)
        raise ValueError(f"insulation_c must be {least:g} or more, the least listed, got {insulation_c:g}")
    own = [row for row in usable if row.insulation_c == max(listed)]
    return [row for row in own if row.source.startswith(VEHICLE_CABLE)] or own


def _single(rows: Sequence[Ampacity], mm2: float, ambient_c: float) -> Published:
    """What a single cable carries, linear between the listed ambients and never more than at the coolest.

    Above the hottest it falls with the root of the temperature that is left to the insulation, by which
    the handbook's column for 50 °C follows from that for 30 °C, and the regulation's 0.85 at 105 °C.
    """
    ambients = sorted({row.ambient_c for row in rows})
    cool, hot = around(ambients, ambient_c, float)
    a, b = (_by_area([row for row in rows if row.ambient_c == ambient], mm2) for ambient in (cool, hot))
    share = share_between(cool, hot, ambient_c)
    amps = (1 - share) * a.value + share * b.value
    source = once((a.source, b.source))
    if ambient_c > hot:
        limit = rows[0].insulation_c
        amps *= sqrt(max(0.0, limit - ambient_c) / (limit - hot))
        source += f"; less from {hot:g} to {ambient_c:g} °C by the root of what is left to {limit:g} °C"
    return Published(amps, source, weakest((a.basis, b.basis)))


def _by_area(rows: Sequence[Ampacity], mm2: float) -> Published:
    """Linear in the logarithms of area and current; thicker than the last row, the last row.

    Thinner than the first row it falls in proportion to the area, which is faster than in any table.
    """
    low, high = around(sorted(rows, key=lambda row: row.mm2), mm2, lambda row: row.mm2)
    share = share_between(log(low.mm2), log(high.mm2), log(mm2))
    amps = exp((1 - share) * log(low.amps) + share * log(high.amps)) if share else low.amps
    areas = f"{low.mm2:g}" if low is high else f"{low.mm2:g} and {high.mm2:g}"
    source = f"{low.source}, {low.insulation_c:g} °C insulation at {low.ambient_c:g} °C, {areas} mm²"
    if mm2 < low.mm2:
        amps *= mm2 / low.mm2
        source += f", in proportion for {mm2:g} mm²"
    elif mm2 > high.mm2:
        source += f", the thickest listed, for {mm2:g} mm²"
    return Published(amps, source, weakest((low.basis, high.basis)))


def _bundle_factor(bundlings: Sequence[Bundling], bundled: int) -> Published:
    """The factor of the next listed number of cables, or less where the bundle is larger than any listed.

    Beyond the last row it falls with the root of the number, faster than it does in the table.
    """
    if bundled < 1:
        raise ValueError(f"bundled must be 1 or more, got {bundled}")
    if not bundlings:
        raise no_row("bundling", "any number of cables")
    _, row = around(sorted(bundlings, key=lambda b: b.loaded), bundled, lambda b: float(b.loaded))
    factor = row.factor * min(1.0, sqrt(row.loaded / bundled))
    return Published(factor, row.source, row.basis)
