"""Fuses against ISO 8820-3, DIN 72581, UL 248-14 and FAA AC 43.13-1B, tabs against UL 310; basis by row."""

import re

import pytest

from planner.model.conductors import gauge_area


def test_every_fuse_row_is_shipped_and_only_the_shares_and_volts_are_added(table, reference):
    added = {"max_drop_v"}
    shipped = table("fuses")
    assert [{k: v for k, v in row.items() if k not in added} for row in shipped[:-1]] == reference("fuses")
    assert shipped[-1]["row"] == "load"
    for row in shipped:
        volts = re.match(r"max ([\d.]+) V", row["note"]) if row["row"] == "drop" else None
        assert row["max_drop_v"] == (volts.group(1) if volts else "")


def test_every_type_that_is_listed_opens_at_what_is_called_sure(standards, reference):
    """Limits at 135 %: type E and UL 248-14 confirmed, type C and SAE memory; within an hour."""
    limits = [row for row in reference("fuses") if (row["row"], row["percent"]) == ("limit", "135")]
    types = {row["type"] for row in reference("fuses") if row["row"] == "limit"}
    assert {row["type"] for row in limits} == types
    assert max(float(row["max_s"]) for row in limits) == 3600
    found = standards.fuse_opens_amps(20, "continuous")
    assert found.value == pytest.approx(27)
    assert "within 3600 s" in found.source
    assert found.is_from_memory


def test_no_type_has_to_carry_what_is_called_sure_to_open_it(standards, reference):
    """Limits without an upper time (100 and 110 %) lie below; ISO 8820-3, SAE, UL 248-14."""
    carried = [float(r["percent"]) for r in reference("fuses") if r["row"] == "limit" and not r["max_s"]]
    assert max(carried) == 110
    assert standards.fuse_opens_amps(10, "continuous").value > 10 * max(carried) / 100


@pytest.mark.parametrize(("marked", "carries"), [(10, 5), (35, 17.5), (50, 25)])
def test_a_fuse_marked_with_its_blowing_current_carries_half(standards, reference, marked, carries):
    """Trade practice for 1.25 x 0.25 in glass fuses in British-built vehicles; memory."""
    (row,) = (r for r in reference("fuses") if r["row"] == "continuous" and r["rating_a"] == str(marked))
    assert f"continuous about {carries:g} A" in row["note"]
    found = standards.fuse_carries_amps(marked, "blowing")
    assert (found.value, found.is_from_memory) == (carries, True)
    opens = standards.fuse_opens_amps(marked, "blowing")
    assert (opens.value, opens.is_from_memory) == (marked, True)


def test_example_c1_rating_from_load(standards):
    """Training page on fuse ratings, 125 % of the normal current: 10 A asks for 12.5 A; confirmed (page)."""
    assert standards.fuse_carries_amps(12.5, "continuous").value == pytest.approx(10)
    assert standards.fuse_for_load(10).value == 15  # the next blade rating above 12.5 A
    assert standards.fuse_for_load(8).value == 10
    assert not standards.fuse_for_load(10).is_from_memory


@pytest.mark.parametrize(
    ("rated", "volts"), [(20, 0.125), (30, 0.100), (50, 0.100), (80, 0.100), (5, 0.125), (100, 0.100)]
)
def test_a_fuse_drops_at_most_what_din_72581_3_allows(standards, rated, volts):
    """DIN 72581-3 blade fuses, 20 to 80 A; confirmed (1 extract); outside of that the end rows are kept."""
    found = standards.fuse_ohms(rated)
    assert found.value * rated == pytest.approx(volts)
    assert found.basis == "confirmed (1 extract of DIN 72581-3)"


@pytest.mark.parametrize("rated", [5, 8, 16, 25, 40])
def test_conical_fuses_may_drop_no_more(standards, rated):
    """DIN 72581-1, at most 0.1 V; confirmed (1 page)."""
    assert standards.fuse_ohms(rated).value * rated >= 0.1 - 1e-12


def test_the_faa_fuse_is_rated_within_what_the_wire_carries(standards, reference):
    """FAA AC 43.13-1B table 11-3 beside the handbook's ampacity: neither source knows of the other."""
    for row in reference("protectors"):
        mm2 = gauge_area(standards.gauges, row["awg"]).value
        assert float(row["fuse_a"]) < standards.wire_amps(mm2).value, row["awg"]


def test_every_tab_is_tested_at_its_published_current(standards, reference):
    """UL 310 temperature-rise test, internal wiring; confirmed (2 secondary tables)."""
    rows = [row for row in reference("tabs") if row["meaning"] == "temperature-rise test"]
    assert len(rows) == 11
    for row in rows:
        for width in ("2.8", "4.8", "6.3"):
            if width in row["size_mm"]:
                found = standards.tab_amps(f"blade-{width}", float(row["awg_area_mm2"]))
                assert (found.value, found.basis) == (float(row["current_a"]), row["basis"])


def test_tabs_are_cycled_at_twice_their_current(standards, reference):
    """UL 310 heat-cycling test; confirmed (2 secondary tables)."""
    rows = [row for row in reference("tabs") if row["meaning"] == "heat-cycling test"]
    assert len(rows) == 11
    for row in rows:
        width = row["size_mm"].split(" ")[0].rstrip(",")
        found = standards.tab_amps(f"blade-{width}", float(row["awg_area_mm2"]))
        assert 2 * found.value == float(row["current_a"])


@pytest.mark.parametrize("fitting", ["blade-9.5", "bullet", "screw", "stud-6", "ring-6", "bare", "soldered"])
def test_no_current_is_made_up_for_a_fitting_without_a_published_one(standards, fitting):
    assert standards.tab_amps(fitting, 1.5) is None


@pytest.mark.parametrize("width", ["2.8", "4.8", "6.3", "9.5"])
def test_a_tab_is_made_for_the_conductors_of_its_standard(standards, reference, width):
    """IEC 61210 clause 1, stranded or flexible conductors; confirmed (2 scope texts)."""
    row, *others = [r for r in reference("tabs") if r["meaning"] == "scope, stranded or flexible conductors"]
    found = standards.tab_most_mm2(f"blade-{width}")
    assert not others and width in row["size_mm"]
    assert (found.value, found.basis) == (float(row["conductor_max_mm2"]), row["basis"])


@pytest.mark.parametrize("fitting", ["bullet", "screw", "stud-6", "ring-6"])
def test_no_conductor_is_too_thick_for_a_fitting_without_a_published_scope(standards, fitting):
    assert standards.tab_most_mm2(fitting) is None
