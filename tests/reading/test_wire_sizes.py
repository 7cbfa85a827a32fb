"""Wire sizes as people type them."""

import pytest

from planner.model.conductors import Gauge
from planner.reading.typed_values import NotUnderstood
from planner.reading.wire_sizes import read_size

# ASTM B258: the areas of solid wire, as in the published table.
GAUGES = (
    Gauge("14", 2.0809, "table", "test"),
    Gauge("0", 53.4751, "table", "test"),
    Gauge("00", 67.4309, "table", "test"),
)


@pytest.mark.parametrize(
    ("typed", "mm2"),
    [
        ("1.5 mm2", 1.5),
        ("1,5 mm²", 1.5),
        ("0.75", 0.75),
        ("1.5 sq mm", 1.5),
        ("14 mm2", 14.0),
        ("AWG 14", 2.081),
        ("14 AWG", 2.081),
        ("14 ga.", 2.081),
        ("2/0 AWG", 67.431),
        ("14/0.30", 0.99),  # 14 x 0.0707 mm2
        ("14 x 0,30 mm", 0.99),
        ("14/.012 in", 1.022),  # 14 x 0.0730 mm2
        ('14/.012"', 1.022),
        ("14/.012", 1.022),  # no strand is .012 mm thin
        ("28/0.30", 1.979),
    ],
)
def test_a_size_is_read_in_mm2(typed: str, mm2: float) -> None:
    assert read_size(typed, GAUGES) == pytest.approx(mm2, abs=1e-9)


def test_a_whole_number_has_the_unit_of_its_heading() -> None:
    assert read_size("14", GAUGES, "mm2") == 14.0
    assert read_size("14", GAUGES, "awg") == 2.081
    assert read_size("1.5 mm2", GAUGES, "awg") == 1.5


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("14", None, "may be mm2 or a gauge"),
        ("1.5", "awg", "is no gauge"),
        ("AWG 13", None, "no such gauge"),
        ("2/0", None, "is no wire size"),
        ("14/3", None, "no cable has such strands"),
        ("0/0.30", None, "no cable has such strands"),
        ("0.0", "mm2", "is 0 mm2"),
        ("400", "mm2", "is 400 mm2"),
        ("1,500", "mm2", "may mean"),
        ("", None, "no size is given"),
        ("thick", None, "is no wire size"),
    ],
)
def test_a_size_that_is_not_sure_is_asked(typed: str, unit: str | None, said: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        read_size(typed, GAUGES, unit)
    assert said in caught.value.message and caught.value.hint
