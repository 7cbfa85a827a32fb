"""What wires carry against the handbook's table of vehicle cable and 33 CFR 183.425; basis row by row."""

import pytest

HANDBOOK, REGULATION = "Automotive-handbook", "33 CFR 183.425"


@pytest.mark.parametrize(("start", "count"), [(HANDBOOK, 26), (REGULATION, 120)])
def test_every_row_is_met_at_its_own_place(standards, reference, start, count):
    """Handbook after DIN VDE 0298-4: confirmed (one secondary table). Regulation: confirmed (its text)."""
    rows = [row for row in reference("ampacity") if row["source"].startswith(start)]
    assert len(rows) == count
    for row in rows:
        place = [float(row[column]) for column in ("area_mm2", "insulation_c", "ambient_c")]
        found = standards.wire_amps(*place)
        assert found.value == float(row["amps"]), place
        assert found.basis == row["basis"]
        assert row["source"] in found.source


def test_what_a_vehicle_cable_carries_is_told_from_the_table_for_boats(standards):
    """The trap of the reference: 2.5 mm² at 70 °C insulation carries 32 A at 30 °C, 22.7 A at 50 °C."""
    assert standards.wire_amps(2.5).value == 32
    assert standards.wire_amps(2.5, ambient_c=50).value == 22.7


def test_the_root_law_gives_the_published_columns_for_50_degrees(standards, reference):
    """Handbook and engine-space columns, confirmed; both follow from 30 °C within 2 %, roundings included."""
    checked = 0
    for row in reference("ampacity"):
        if row["ambient_c"] == "50":
            insulation = float(row["insulation_c"])
            cool = standards.wire_amps(float(row["area_mm2"]), insulation).value
            by_law = cool * ((insulation - 50) / (insulation - 30)) ** 0.5
            assert float(row["amps"]) == pytest.approx(by_law, rel=0.02, abs=0.5), row
            checked += 1
    assert checked == 28


# Remembered correction factors of the regulation for engine spaces, by insulation (memory).
@pytest.mark.parametrize(
    ("insulation", "remembered"), [(60, 0.58), (75, 0.75), (80, 0.78), (90, 0.82), (125, 0.89)]
)
def test_remembered_factors_for_engine_spaces_agree(standards, insulation, remembered):
    cool, hot = (standards.wire_amps(5.261, insulation, ambient).value for ambient in (30, 50))
    assert hot / cool == pytest.approx(remembered, abs=0.006)


def test_the_handbook_is_of_the_same_order_as_the_table_for_small_craft(standards, reference):
    """ISO 10133 annex A, 70 °C insulation; memory. Other cable, so thin ones differ by up to 1.45."""
    rows = [r for r in reference("ampacity") if r["source"].startswith("ISO 10133")]
    rows = [row for row in rows if row["insulation_c"] == "70"]
    assert len(rows) == 13
    for row in rows:
        ours = standards.wire_amps(float(row["area_mm2"])).value
        assert 0.9 < ours / float(row["amps"]) < 1.45, row["area_mm2"]


@pytest.mark.parametrize("insulation", [60, 70, 75, 80, 90, 105, 125, 200])
def test_a_thicker_wire_carries_no_less(standards, insulation):
    areas = [0.05 * 1.1**n for n in range(90)]  # to 267 mm², beyond every table
    amps = [standards.wire_amps(mm2, insulation).value for mm2 in areas]
    assert amps == sorted(amps)
    assert amps[-1] == amps[-2]


def test_bundle_factors_are_the_remembered_ones_and_say_so(standards, table):
    """DIN VDE 0298-4 and IEC 60364-5-52 table B.52.17, bunched in air; memory."""
    single = standards.wire_amps(1.5).value
    for row in table("bundling"):
        found = standards.wire_amps(1.5, bundled=int(row["loaded"]))
        assert found.value == pytest.approx(single * float(row["factor"]))
        assert found.is_from_memory == (row["loaded"] != "1")
