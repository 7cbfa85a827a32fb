"""Currents and volts to the last digits: thick branches near a battery, and what only leakage holds."""

import pytest
from random_branches import EARTH, solve_together

from planner.currents.laws import Emf, Filament, Junction, Resistance
from planner.currents.solver import Branch, Point, solve


def thick(ohms: float) -> list[Branch]:
    """Two lamps and a heater behind a strap and a bar of about a micro-ohm."""
    return [
        Branch(("battery",), "30", EARTH, Emf(12.7, 0.012)),
        Branch(("strap",), "30", "x", Resistance(ohms)),
        Branch(("bar",), "x", "y", Resistance(1.7 * ohms)),
        Branch(("lamp",), "y", EARTH, Filament(12.0, 5.0)),
        Branch(("heater",), "x", EARTH, Resistance(1.3)),
        Branch(("side",), "y", EARTH, Filament(12.0, 0.4)),
    ]


def check(point: Point) -> None:
    """A nano-ampere is missed at no node; the bar takes what the lamps do."""
    assert point.residual_amps < 1e-10 and not point.unsettled
    _, _, bar, lamp, _, side = point.amps
    assert bar == pytest.approx(lamp + side, abs=1e-10)


@pytest.mark.parametrize("ohms", [1e-7, 7e-7, 1e-6, 1e-5])
def test_what_flows_adds_up_where_the_volts_lack_the_digits(ohms: float) -> None:
    check(solve(thick(ohms), EARTH))
    for together in solve_together([thick(ohms)] * 2, EARTH):
        check(together)


def test_amps_are_those_of_thicker_branches() -> None:
    thin, thinner = solve(thick(7e-7), EARTH), solve(thick(1e-9), EARTH)
    assert thin.amps == pytest.approx(thinner.amps, rel=1e-6)


def test_what_leakage_alone_holds_settles_though_a_thick_source_takes_the_digits() -> None:
    """A sharp junction at the corner of its law, 9 V over 2.5 milliohm beside it: few digits are left."""
    point = solve(
        [
            Branch(("source",), "n7", "n2", Emf(9.101, 0.002537)),
            Branch(("other",), "n7", EARTH, Junction(0.1, 0.005)),
            Branch(("led",), "n7", "n6", Junction(2.0, 500.0)),
            Branch(("joint",), "n2", "n8", Resistance(0.0)),
            Branch(("cut-out",), "n7", "n6", Junction(0.1, 0.005)),
            Branch(("lamp",), "n6", "n8", Filament(12.0, 1.75)),
            Branch(("wire",), "n2", "n7", Resistance(31.3706413)),
        ],
        EARTH,
    )
    assert not point.unsettled and point.rounds < 10 and point.residual_amps < 1e-10
    assert point.amps[5] == pytest.approx(1.75 * (9.0 / 12.0) ** 0.55, rel=0.01)
