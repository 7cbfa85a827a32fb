"""Fuses: what a rating carries for good, when it opens, what it drops, and which one a load wants."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planner.model.published import (
    Published,
    around,
    must_be_positive,
    no_row,
    once,
    share_between,
    weakest,
)

Marked = Literal["continuous", "blowing"]
BLADE = "blade"
# The least overload at which every listed type has to open; the times differ, up to an hour.
SURE_PERCENT = 135.0


@dataclass(frozen=True, slots=True)
class FuseFact:
    """One row of the fuse table.

    ``row`` says what it states: ``limit`` a time limit at a percentage of the rating, ``drop`` the most
    volts lost at the rating, ``load`` the share of the rating to use, ``continuous`` the share that a fuse
    marked with its blowing current carries, ``colour`` that there is such a rating.
    """

    row: str
    fuse: str
    least_amps: float
    most_amps: float
    percent: float | None
    max_seconds: float | None
    max_drop_volts: float | None
    source: str
    basis: str


def carries_amps(facts: Sequence[FuseFact], rated_amps: float, marked: Marked) -> Published:
    """The share of the rating that the table gives for the way the fuse is marked."""
    must_be_positive("rated_amps", rated_amps)
    row = "load" if marked == "continuous" else "continuous"
    shares = {fact.percent: fact for fact in facts if fact.row == row and fact.percent is not None}
    if not shares:
        raise no_row("fuses", f"what a fuse marked with its {marked} current carries ({row})")
    percent = min(shares)
    fact = shares[percent]
    return Published(rated_amps * percent / 100, f"{percent:g} % of the rating: {fact.source}", fact.basis)


def opens_amps(facts: Sequence[FuseFact], rated_amps: float, marked: Marked) -> Published:
    """The current at which every listed type of fuse of that rating has to open."""
    must_be_positive("rated_amps", rated_amps)
    if marked == "blowing":
        marks = [fact for fact in facts if fact.row == "continuous"]
        if not marks:
            raise no_row("fuses", "fuses marked with their blowing current (continuous)")
        return Published(rated_amps, once(f.source for f in marks), weakest(f.basis for f in marks))
    limits = [
        fact
        for fact in facts
        if fact.row == "limit"
        and fact.percent == SURE_PERCENT
        and fact.least_amps <= rated_amps <= fact.most_amps
    ]
    longest = max((fact.max_seconds or 0 for fact in limits), default=0.0)
    if not longest:
        raise no_row("fuses", f"a limit at {SURE_PERCENT:g} % of {rated_amps:g} A")
    source = f"{SURE_PERCENT:g} % of the rating opens within {longest:g} s: " + once(f.source for f in limits)
    return Published(rated_amps * SURE_PERCENT / 100, source, weakest(f.basis for f in limits))


def drop_ohms(facts: Sequence[FuseFact], rated_amps: float) -> Published:
    """The most volts lost at the rating, over the rating, from the rows of the blade fuses.

    Between rows the volts are interpolated over the rating; beyond the ends the end row's volts are kept.
    The limit for fuses with conical caps is never larger, so this one errs towards too much.
    """
    must_be_positive("rated_amps", rated_amps)
    drops = [f for f in facts if f.row == "drop" and f.fuse.startswith(BLADE) and f.max_drop_volts]
    points = sorted((at, fact.max_drop_volts or 0.0, fact) for fact in drops for at in _ends(fact))
    if not points:
        raise no_row("fuses", "the drop across a blade fuse")
    low, high = around(points, rated_amps, lambda point: point[0])
    share = share_between(low[0], high[0], rated_amps)
    volts = (1 - share) * low[1] + share * high[1]
    source = f"at most {volts:.3g} V at {rated_amps:g} A: " + once(p[2].source for p in (low, high))
    return Published(volts / rated_amps, source, weakest(p[2].basis for p in (low, high)))


def _ends(fact: FuseFact) -> tuple[float, float]:
    return fact.least_amps, fact.most_amps


def rating_for_load(facts: Sequence[FuseFact], amps: float) -> Published | None:
    """The least listed blade fuse that carries a load for good, None if none is large enough."""
    must_be_positive("amps", amps)
    ratings = [f for f in facts if f.row == "colour" and f.fuse.startswith(BLADE)]
    for fact in sorted(ratings, key=lambda f: f.least_amps):
        carried = carries_amps(facts, fact.least_amps, "continuous")
        if carried.value >= amps:
            source = f"{fact.source}; {carried.source}"
            return Published(fact.least_amps, source, weakest((fact.basis, carried.basis)))
    return None
