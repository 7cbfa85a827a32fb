"""Wire sizes as people type them against the areas of ASTM B258; the reference has no table of strands.

ASTM B258 diameters and areas: confirmed (computed; within 0.1 % of a university table). That 14/0.30 is sold
as 1 mm² cable, and so on, is common practice, no source.
"""

import pytest

from planner.reading.wire_sizes import read_size

INCH_MM = 25.4
THICKEST_STRAND_MM = 1.1  # what is read as a strand; a thicker one is refused


def solid(reference):
    return [row for row in reference("awg") if row["kind"].startswith("solid")]


def test_a_typed_gauge_has_the_area_of_the_table(standards, reference):
    rows = solid(reference)
    assert len(rows) == 28
    for row in rows:
        assert read_size(f"AWG {row['awg']}", standards.gauges) == round(float(row["area_mm2"]), 3)


def test_strands_of_a_gauge_have_their_number_times_its_area(standards, reference):
    """One wire of a gauge as a strand: by its diameter in mm, in inches, and several together."""
    rows = [row for row in solid(reference) if float(row["diameter_mm"]) <= THICKEST_STRAND_MM]
    assert len(rows) >= 5
    for row in rows:
        area, diameter = float(row["area_mm2"]), float(row["diameter_mm"])
        for text in (f"7/{diameter} mm", f"7/{diameter / INCH_MM:.5f} in"):
            assert read_size(text, standards.gauges) == pytest.approx(7 * area, rel=2e-3), text


@pytest.mark.parametrize(
    ("text", "sold_as"),
    [("14/0.30", 1.0), ("28/0.30", 2.0), ("44/0.30", 3.0), ("65/0.30", 4.5), ("14/.012 in", 1.0)],
)
def test_cable_by_its_strands_is_near_what_it_is_sold_as(standards, text, sold_as):
    """Common practice, no source."""
    assert read_size(text, standards.gauges) == pytest.approx(sold_as, rel=0.04)
