"""Fuses by a small table: what they carry, when they open, what they drop, which one is wanted."""

from math import inf

import pytest

from planner.model.fuses import (
    FuseFact,
    carries_amps,
    drop_ohms,
    opens_amps,
    rating_for_load,
)
from planner.problems import InputError

CONFIRMED = "confirmed (x)"


def fact(row, least=0.0, most=inf, *, fuse="blade", percent=None, seconds=None, volts=None, basis=CONFIRMED):
    return FuseFact(row, fuse, least, most, percent, seconds, volts, f"{row} source", basis)


TABLE = (
    fact("limit", percent=110.0),
    fact("limit", percent=135.0, seconds=600.0),
    fact("limit", 20, 20, fuse="high", percent=135.0, seconds=1800.0, basis="memory"),
    fact("limit", percent=200.0, seconds=5.0),
    fact("continuous", 35, 35, fuse="glass", percent=50.0, basis="memory"),
    fact("load", fuse="any", percent=80.0),
    fact("drop", 20, 20, volts=0.2),
    fact("drop", 30, 80, volts=0.1),
    fact("drop", fuse="conical", volts=9.0),
    fact("colour", 10, 10),
    fact("colour", 5, 5, basis="memory"),
    fact("colour", 8, 8, fuse="conical"),
)


def test_a_mark_decides_what_is_carried():
    assert carries_amps(TABLE, 20, "continuous").value == 16
    assert carries_amps(TABLE, 20, "blowing").value == 10
    assert carries_amps(TABLE, 20, "blowing").is_from_memory
    assert carries_amps(TABLE, 20, "continuous").source == "80 % of the rating: load source"


def test_it_opens_within_the_longest_time_of_the_types_that_have_the_rating():
    assert opens_amps(TABLE, 10, "continuous").value == pytest.approx(13.5)
    assert "within 600 s" in opens_amps(TABLE, 10, "continuous").source
    assert not opens_amps(TABLE, 10, "continuous").is_from_memory
    assert "within 1800 s" in opens_amps(TABLE, 20, "continuous").source
    assert opens_amps(TABLE, 20, "continuous").is_from_memory
    assert opens_amps(TABLE, 35, "blowing").value == 35


@pytest.mark.parametrize(
    ("rated", "volts"), [(5, 0.2), (20, 0.2), (25, 0.15), (30, 0.1), (60, 0.1), (120, 0.1)]
)
def test_the_volts_lost_are_interpolated_between_ratings(rated, volts):
    assert drop_ohms(TABLE, rated).value == pytest.approx(volts / rated)


@pytest.mark.parametrize(("load", "rating"), [(0.1, 5), (4, 5), (4.001, 10), (8, 10)])
def test_the_least_blade_fuse_that_carries_the_load_is_taken(load, rating):
    found = rating_for_load(TABLE, load)
    assert found is not None and found.value == rating
    assert found.is_from_memory == (rating == 5)


def test_a_load_above_the_largest_fuse_has_none():
    assert rating_for_load(TABLE, 8.1) is None


@pytest.mark.parametrize("amps", [0, -1, inf])
def test_currents_and_areas_that_are_none_are_refused(amps):
    for ask in (
        lambda: carries_amps(TABLE, amps, "continuous"),
        lambda: opens_amps(TABLE, amps, "continuous"),
        lambda: drop_ohms(TABLE, amps),
        lambda: rating_for_load(TABLE, amps),
    ):
        with pytest.raises(ValueError, match="must be a number above 0"):
            ask()


def test_an_empty_table_is_said_to_lack_what_is_asked_for():
    for ask in (
        lambda: carries_amps((), 10, "blowing"),
        lambda: opens_amps((), 10, "continuous"),
        lambda: opens_amps((), 10, "blowing"),
        lambda: drop_ohms((), 10),
    ):
        with pytest.raises(InputError, match=r"standards/fuses.csv: holds no row for"):
            ask()
