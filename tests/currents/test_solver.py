"""Operating points: joints, what dangles or floats, bad values, absurd values, sources that differ."""

import pytest

from planner.currents.laws import Emf, Filament, Junction, Law, Resistance
from planner.currents.solver import Branch, Point, solve

GROUND = "31"


def net(**elements: tuple[str, str, Law]) -> list[Branch]:
    """Branches by name."""
    return [Branch((name,), a, b, law) for name, (a, b, law) in elements.items()]


def solved(**elements: tuple[str, str, Law]) -> tuple[Point, dict[str, float]]:
    """The operating point, and amps by name."""
    branches = net(**elements)
    point = solve(branches, GROUND)
    assert not point.unsettled and point.residual_amps < 1e-6
    return point, {branch.name[0]: amps for branch, amps in zip(branches, point.amps, strict=True)}


BATTERY = ("30", GROUND, Emf(12.0, 0.5))
JOINT = Resistance(0.0)


def test_battery_and_lamp_divide_the_volts() -> None:
    point, amps = solved(battery=BATTERY, load=("30", GROUND, Resistance(5.5)))
    assert point.volts == pytest.approx({GROUND: 0.0, "30": 11.0})
    assert amps == pytest.approx({"battery": -2.0, "load": 2.0})


def test_two_sources_in_opposition_drive_only_their_difference() -> None:
    point, amps = solved(low=("30", GROUND, Emf(12.6, 0.05)), high=("30", GROUND, Emf(13.8, 0.05)))
    assert amps == pytest.approx({"low": 12.0, "high": -12.0})
    assert point.volts["30"] == pytest.approx(13.2)


def test_joint_carries_the_current_of_what_it_joins() -> None:
    point, amps = solved(
        battery=BATTERY, joint=("30", "x", JOINT), one=("x", GROUND, Resistance(11.0)),
        other=("30", GROUND, Resistance(11.0)),
    )  # fmt: skip
    assert point.volts["x"] == point.volts["30"] == pytest.approx(11.0)
    assert amps["joint"] == pytest.approx(1.0)


def test_joints_in_a_row_and_a_branch_of_them_carry_what_flows_beyond() -> None:
    _, amps = solved(
        battery=BATTERY, first=("30", "x", JOINT), second=("y", "x", JOINT), side=("x", "z", JOINT),
        one=("y", GROUND, Resistance(11.0)), other=("z", GROUND, Resistance(11.0)),
    )  # fmt: skip
    assert amps["first"] == pytest.approx(2.0)
    assert amps["second"] == pytest.approx(-1.0)
    assert amps["side"] == pytest.approx(1.0)


def test_currents_of_a_loop_of_joints_still_sum_to_zero() -> None:
    """How they share is open among exact joints; that none is lost is not."""
    point, amps = solved(
        battery=BATTERY, ab=("30", "b", JOINT), bc=("b", "c", JOINT), ca=("c", "30", JOINT),
        load=("c", GROUND, Resistance(5.5)),
    )  # fmt: skip
    assert amps["load"] == pytest.approx(2.0)
    assert amps["bc"] - amps["ca"] == pytest.approx(2.0)
    assert amps["ab"] == pytest.approx(amps["bc"])
    assert point.residual_amps < 1e-12


def test_source_bridged_by_a_joint_gives_its_short_circuit_current() -> None:
    point, amps = solved(battery=BATTERY, bridge=("30", GROUND, JOINT), load=("30", GROUND, Resistance(5.5)))
    assert point.volts["30"] == 0.0
    assert amps == pytest.approx({"battery": -24.0, "bridge": 24.0, "load": 0.0})


def test_what_hangs_on_by_one_end_has_the_volts_of_what_it_hangs_on_and_no_current() -> None:
    point, amps = solved(
        battery=BATTERY, load=("30", GROUND, Resistance(5.5)), wire=("30", "x", Resistance(0.01)),
        lamp=("x", "y", Filament(12.0, 1.75)), diode=("z", "y", Junction(0.7, 0.1)),
    )  # fmt: skip
    assert [point.volts[node] for node in "xyz"] == pytest.approx([11.0] * 3)
    assert amps["wire"] == amps["lamp"] == amps["diode"] == 0.0


@pytest.mark.parametrize("is_turned", [False, True])
def test_source_without_load_shows_its_open_volts(is_turned: bool) -> None:
    battery = (GROUND, "30", Emf(-12.0, 0.5)) if is_turned else BATTERY
    point, amps = solved(battery=battery, wire=("30", "x", Resistance(0.01)))
    assert point.volts == pytest.approx({GROUND: 0.0, "30": 12.0, "x": 12.0})
    assert amps["battery"] == 0.0


def test_island_that_floats_has_currents_but_no_volts_against_zero() -> None:
    point, amps = solved(
        battery=BATTERY, load=("30", GROUND, Resistance(5.5)),
        other=("p", "q", Emf(6.0, 0.5)), lamp=("p", "q", Resistance(2.5)), lead=("q", "r", Resistance(1.0)),
    )  # fmt: skip
    assert set(point.volts) == {GROUND, "30"}
    assert set(point.floating) == {"p", "q", "r"}
    assert amps["lamp"] == pytest.approx(2.0)
    assert point.across(Branch(("lamp",), "p", "q", Resistance(2.5))) == pytest.approx(5.0)
    assert point.across(Branch(("between the two",), "p", "30", Resistance(1.0))) == 0.0
    assert point.floating["r"] == pytest.approx(point.floating["q"])


def test_dead_island_has_no_volts() -> None:
    point, amps = solved(battery=BATTERY, wire=("p", "q", Resistance(1.0)), lamp=("p", "q", Filament(12, 1)))
    assert not {"p", "q"} & set(point.volts)
    assert amps["wire"] == amps["lamp"] == 0.0


def test_island_that_floats_by_one_wire_counts_from_zero() -> None:
    point, _ = solved(
        battery=BATTERY, other=("p", "q", Emf(6.0, 0.5)), lamp=("p", "q", Resistance(2.5)),
        tie=("q", "30", Resistance(1.0)),
    )  # fmt: skip
    assert point.volts == pytest.approx({GROUND: 0.0, "30": 12.0, "q": 12.0, "p": 17.0})


def test_nothing_at_all_is_a_network_too() -> None:
    point = solve([], GROUND)
    assert (dict(point.volts), list(point.amps)) == ({}, [])


@pytest.mark.parametrize(
    ("law", "words"),
    [
        (Emf(12.0, 0.0), "bad branch: a source needs a resistance of its own, got 0"),
        (Emf(12.0, -0.1), "bad branch: a source needs a resistance of its own, got -0.1"),
        (Resistance(-3.0), "bad branch: a resistance cannot be negative, got -3"),
    ],
)
def test_impossible_values_are_refused_by_name(law: Law, words: str) -> None:
    with pytest.raises(ValueError, match=f"^{words}$"):
        solve([*net(battery=BATTERY), Branch(("bad", "branch"), "30", GROUND, law)], GROUND)


@pytest.mark.parametrize("ohms", [1e-9, 1e-3, 1.0, 1e3, 1e9])
def test_resistances_from_absurdly_small_to_absurdly_large_lose_no_digits(ohms: float) -> None:
    """A short wire in front of a divider of 1e9 ohms; every figure follows from Ohm's law alone."""
    branches = net(
        battery=BATTERY, wire=("30", "x", Resistance(1e-9)), upper=("x", "y", Resistance(ohms)),
        lower=("y", GROUND, Resistance(1e9)),
    )  # fmt: skip
    point = solve(branches, GROUND)
    current = 12.0 / (0.5 + 1e-9 + ohms + 1e9)
    assert point.amps[3] == pytest.approx(current, rel=1e-12)
    assert point.volts["y"] == pytest.approx(current * 1e9, rel=1e-12)
    # The last digit of 12 V across the wire is 2 uA; no current can be told better from volts.
    assert point.amps[1] == pytest.approx(current, abs=4e-6)
    assert point.residual_amps < 4e-6


def test_lamp_behind_a_wire_of_no_length_is_at_the_battery() -> None:
    point, _ = solved(
        battery=("30", GROUND, Emf(12.0, 1e-6)), wire=("30", "x", JOINT),
        lamp=("x", GROUND, Filament(12.0, 1.75)), back=(GROUND, "y", JOINT),
    )  # fmt: skip
    assert point.volts["x"] == pytest.approx(12.0 - 1.75e-6, abs=1e-9)


def test_chain_of_leaking_diodes_settles_though_digits_run_out() -> None:
    """A source floats on leaks of 0.1 uS alone: the last step is larger than the solver's own measure."""
    point, amps = solved(
        battery=("n0", GROUND, Emf(14.1, 0.05)), led=("n0", "n8", Junction(2.0, 100.0)),
        other=("n8", "n4", Junction(2.0, 500.0)), source=("n4", "n6", Emf(12.9, 0.5)),
        wire=("n6", "n9", Resistance(0.005)), long=("n9", "n2", Resistance(411.0)),
        third=("n2", "n1", Junction(2.0, 100.0)), back=("n1", GROUND, Junction(0.7, 0.1)),
    )  # fmt: skip
    assert amps["led"] == pytest.approx(amps["back"], rel=1e-4)
    assert point.volts["n0"] > point.volts["n8"] > point.volts["n4"]


def test_rounds_are_counted() -> None:
    linear, _ = solved(battery=BATTERY, load=("30", GROUND, Resistance(5.5)))
    lamp, _ = solved(battery=BATTERY, load=("30", GROUND, Filament(12.0, 1.75)))
    assert linear.rounds == 1 < lamp.rounds < 12
