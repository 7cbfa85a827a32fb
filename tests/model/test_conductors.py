"""Resistance of wire between, at and beyond the rows of a small table."""

import math

import pytest

from planner.model.conductors import Conductor, Gauge, gauge_area, ohms_per_metre
from planner.problems import InputError


def row(mm2, ohms_per_km, standard="ISO 6722", metal="copper plain", basis="confirmed (x)"):
    return Conductor(mm2, ohms_per_km, metal, standard, f"{standard} table", basis)


# Products 18, 20 and 22 ohm mm²/km; the tinned row and the second standard must not be taken for 1 mm².
TABLE = (
    row(2, 10),
    row(1, 18),
    row(1, 99, "IEC 60228 class 5"),
    row(4, 5.5, "IEC 60228 class 5", basis="memory"),
    row(1, 50, metal="copper tinned"),
)


def test_a_listed_area_has_its_own_row_of_the_preferred_standard():
    found = ohms_per_metre(TABLE, 1, 20)
    assert found.value == pytest.approx(0.018)
    assert (found.source, found.basis) == ("ISO 6722 table, 1 mm²", "confirmed (x)")


def test_between_rows_the_product_with_the_area_is_interpolated():
    assert ohms_per_metre(TABLE, 1.5, 20).value == pytest.approx(0.019 / 1.5)


def test_an_area_that_only_the_second_standard_has_is_taken_from_it():
    found = ohms_per_metre(TABLE, 4, 20)
    assert found.value == pytest.approx(0.0055)
    assert found.is_from_memory


def test_a_row_from_memory_makes_what_is_reckoned_from_it_memory():
    found = ohms_per_metre(TABLE, 3, 20)
    assert found.basis == "memory; confirmed (x)"
    assert found.is_from_memory
    assert not ohms_per_metre(TABLE, 1.5, 20).is_from_memory


@pytest.mark.parametrize(("mm2", "product"), [(0.25, 0.018), (8, 0.022)])
def test_beyond_the_ends_the_product_is_kept_and_said(mm2, product):
    found = ohms_per_metre(TABLE, mm2, 20)
    assert found.value == pytest.approx(product / mm2)
    assert f"its resistance times area kept for {mm2:g} mm²" in found.source


@pytest.mark.parametrize(("celsius", "factor"), [(20, 1), (120, 1.393), (-80, 0.607)])
def test_resistance_rises_with_temperature(celsius, factor):
    assert ohms_per_metre(TABLE, 1, celsius).value == pytest.approx(0.018 * factor)


@pytest.mark.parametrize("mm2", [0, -1.5, math.nan, math.inf])
def test_an_area_that_is_none_is_refused(mm2):
    with pytest.raises(ValueError, match="mm2 must be a number above 0"):
        ohms_per_metre(TABLE, mm2, 20)


@pytest.mark.parametrize("celsius", [-300, math.nan, math.inf])
def test_a_temperature_that_the_law_does_not_hold_for_is_refused(celsius):
    with pytest.raises(ValueError, match="does not hold at"):
        ohms_per_metre(TABLE, 1, celsius)


def test_a_table_without_plain_copper_is_said_to_lack_it():
    with pytest.raises(InputError, match=r"standards/conductors.csv: holds no row for copper plain"):
        ohms_per_metre((row(1, 50, metal="copper tinned"),), 1, 20)


def test_a_gauge_that_is_not_listed_has_no_area():
    gauges = (Gauge("12", 3.3, "ASTM B258", "confirmed (x)"),)
    assert gauge_area(gauges, "13") is None
    found = gauge_area(gauges, "12")
    assert found is not None and (found.value, found.source) == (3.3, "ASTM B258")
