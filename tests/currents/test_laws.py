"""Element laws: rising, smooth where they should be, passive."""

from itertools import pairwise

import pytest

from planner.currents.laws import COLD_SHARE, Emf, Filament, Junction, Law, Resistance

LAWS: dict[str, Law] = {
    "wire": Resistance(0.003),
    "coil": Resistance(80.0),
    "battery": Emf(12.7, 0.012),
    "battery the other way round": Emf(-12.7, 0.012),
    "lamp": Filament(12.0, 1.75),
    "small lamp": Filament(6.0, 0.1),
    "LED": Junction(2.0, 500.0),
    "diode": Junction(0.7, 0.1),
    "germanium diode": Junction(0.3, 0.01),
    "cut-out": Junction(0.0, 0.005),
}
VOLTS = sorted([v / 7 for v in range(-300, 301)] + [0.01, -0.01, 1e-6, -1e-6])
LAW = pytest.mark.parametrize("law", LAWS.values(), ids=LAWS)


@LAW
def test_current_rises_with_the_volts(law: Law) -> None:
    amps = [law.amps(volts) for volts in VOLTS]
    assert all(low < high for low, high in pairwise(amps))


@LAW
def test_slope_is_that_of_the_current(law: Law) -> None:
    step = 1e-6
    corners = [0.0] if isinstance(law, Junction) and law.drop_v == 0 else []
    corners += [law.floor_v, -law.floor_v] if isinstance(law, Filament) else []
    for volts in VOLTS:
        if any(abs(volts - corner) < 2 * step for corner in corners):
            continue
        slope = (law.amps(volts + step) - law.amps(volts - step)) / (2 * step)
        # Rounding of the currents themselves: a part in 1e16 of them, over the step.
        rounding = 1e-15 * abs(law.amps(volts)) / step
        assert law.siemens(volts) == pytest.approx(slope, rel=1e-5, abs=1e-11 + rounding)


@LAW
def test_nothing_but_a_source_gives_power(law: Law) -> None:
    given = [volts for volts in VOLTS if volts * law.amps(volts) < 0]
    assert bool(given) == isinstance(law, Emf)
    assert isinstance(law, Emf) or law.amps(0.0) == 0.0


def test_lamp_takes_its_rating_and_no_more_than_cold_below_the_floor() -> None:
    lamp = Filament(12.0, 1.75)
    assert lamp.amps(12.0) == pytest.approx(1.75)
    assert lamp.amps(-12.0) == pytest.approx(-1.75)
    assert lamp.hot_ohms == pytest.approx(12 / 1.75)
    assert lamp.cold_ohms == pytest.approx(lamp.hot_ohms * COLD_SHARE)
    assert lamp.amps(0.5 * lamp.floor_v) == pytest.approx(0.5 * lamp.floor_v / lamp.cold_ohms)


@pytest.mark.parametrize("watts", [1.2, 5.0, 21.0, 60.0])
def test_the_cold_floor_joins_the_hot_law_without_a_jump(watts: float) -> None:
    lamp = Filament(12.0, watts / 12.0)
    under, over = (lamp.amps(lamp.floor_v * share) for share in (1 - 1e-12, 1 + 1e-12))
    assert over == pytest.approx(under, rel=1e-9)
    assert lamp.floor_v < 0.01 * lamp.rated_v


def test_junction_far_above_its_drop_is_a_resistance_behind_it() -> None:
    diode = Junction(0.7, 0.1)
    assert diode.amps(1.7) == pytest.approx(10.0, rel=1e-5)
    assert diode.siemens(1.7) == pytest.approx(10.0, rel=1e-5)
    assert 0 > diode.amps(-10.0) > -2e-6


def test_junction_of_absurd_volts_neither_overflows_nor_conducts_backwards() -> None:
    led = Junction(2.0, 500.0)
    assert led.amps(1e6) == pytest.approx(2000.1, rel=1e-4)
    assert led.amps(-1e6) == pytest.approx(-0.1, rel=1e-4)
    assert led.siemens(1e6) == pytest.approx(1 / 500, rel=1e-3)
    assert led.siemens(-1e6) == pytest.approx(1e-7)
