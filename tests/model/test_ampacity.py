"""What a wire carries between, at and beyond the rows of a small table."""

import math

import pytest

from planner.model.ampacity import REGULATION, VEHICLE_CABLE, Ampacity, Bundling, carried_amps
from planner.problems import InputError


def row(mm2, insulation, ambient, amps, start=VEHICLE_CABLE, basis="confirmed (x)"):
    return Ampacity(mm2, insulation, ambient, amps, start, basis)


TABLE = (
    row(4, 70, 30, 40),
    row(1, 70, 30, 20),
    row(1, 70, 50, 14),
    row(4, 70, 50, 28),
    row(1, 70, 30, 99, REGULATION),
    row(1, 90, 30, 25, REGULATION, "memory"),
    row(1, 95, 30, 99, "another table"),
)
BUNDLES = (Bundling(4, 0.6, "bundles", "memory"), Bundling(1, 1, "bundles", "memory"))


def amps(mm2=1.0, insulation=70.0, ambient=30.0, bundled=1):
    return carried_amps(TABLE, BUNDLES, mm2, insulation, ambient, bundled)


def test_vehicle_cable_goes_before_the_regulation():
    assert amps().value == 20
    assert amps().source == f"{VEHICLE_CABLE}, 70 °C insulation at 30 °C, 1 mm²"


def test_areas_are_interpolated_on_logarithmic_scales():
    assert amps(2).value == pytest.approx(math.sqrt(20 * 40))
    assert "1 and 4 mm²" in amps(2).source


def test_thinner_than_listed_it_falls_in_proportion():
    assert amps(0.5).value == pytest.approx(10)
    assert "in proportion for 0.5 mm²" in amps(0.5).source


def test_thicker_than_listed_it_stays():
    assert amps(400).value == 40
    assert "the thickest listed, for 400 mm²" in amps(400).source


@pytest.mark.parametrize(("ambient", "found"), [(-20, 20), (30, 20), (40, 17), (50, 14)])
def test_ambients_are_interpolated_and_cold_gains_nothing(ambient, found):
    assert amps(ambient=ambient).value == pytest.approx(found)


@pytest.mark.parametrize(("ambient", "found"), [(65, 7), (70, 0), (200, 0)])
def test_above_the_hottest_it_falls_by_the_root_of_what_is_left(ambient, found):
    assert amps(ambient=ambient).value == pytest.approx(found)
    assert "by the root of what is left to 70 °C" in amps(ambient=ambient).source


@pytest.mark.parametrize(("insulation", "found"), [(70, 20), (89, 20), (90, 25), (300, 25)])
def test_the_best_listed_insulation_that_is_no_better_is_taken(insulation, found):
    assert amps(insulation=insulation).value == found


def test_insulation_worse_than_any_listed_is_refused():
    with pytest.raises(ValueError, match="insulation_c must be 70 or more, the least listed, got 65"):
        amps(insulation=65)


@pytest.mark.parametrize(("bundled", "factor"), [(1, 1), (2, 0.6), (4, 0.6), (16, 0.3)])
def test_a_bundle_takes_the_next_larger_one_that_is_listed_and_less_beyond(bundled, factor):
    assert amps(bundled=bundled).value == pytest.approx(20 * factor)


def test_a_bundle_from_memory_makes_the_current_memory():
    assert not amps().is_from_memory
    assert amps(bundled=3).is_from_memory
    assert "times 0.6 for 3 loaded cables in one bundle (bundles)" in amps(bundled=3).source


@pytest.mark.parametrize("mm2", [0, -1, math.nan, math.inf])
def test_an_area_that_is_none_is_refused(mm2):
    with pytest.raises(ValueError, match="mm2 must be a number above 0"):
        amps(mm2)


def test_what_else_cannot_be_is_refused():
    with pytest.raises(ValueError, match="bundled must be 1 or more, got 0"):
        amps(bundled=0)
    with pytest.raises(ValueError, match="ambient_c must be a number"):
        amps(ambient=math.nan)
    with pytest.raises(ValueError, match="insulation_c must be 70 or more"):
        amps(insulation=math.nan)


def test_empty_tables_are_said_to_lack_what_is_asked_for():
    with pytest.raises(InputError, match=r"standards/ampacity.csv: holds no row for"):
        carried_amps((), BUNDLES, 1, 70, 30, 1)
    with pytest.raises(InputError, match=r"standards/bundling.csv: holds no row for"):
        carried_amps(TABLE, (), 1, 70, 30, 2)
