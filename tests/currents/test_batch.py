"""Many operating points at once against the same points one by one."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_branches import EARTH, draw_network, solve_together

from planner.currents import newton
from planner.currents.batch import Batch, solve_all
from planner.currents.curves import Curves
from planner.currents.laws import Emf, Filament, Junction, Resistance
from planner.currents.solver import Branch, Point, solve

BENCH = settings(max_examples=60, derandomize=True)
randoms = st.randoms(use_true_random=False)
# What only leakage of 0.1 uS holds: this is 1e-12 A there, the last digits of a source's 1,000 A.
CLOSE_V = 1e-5


def agree(found: Point, expected: Point) -> None:
    assert list(found.volts) == list(expected.volts)
    assert dict(found.volts) == pytest.approx(dict(expected.volts), abs=CLOSE_V)
    assert list(found.floating) == list(expected.floating)
    assert list(found.amps) == pytest.approx(list(expected.amps), rel=1e-9, abs=1e-9)
    assert found.residual_amps < 1e-9
    assert not found.unsettled


def same_digits(one: Point, other: Point) -> None:
    assert (one.volts, one.floating, one.amps) == (other.volts, other.floating, other.amps)
    assert (one.residual_amps, one.rounds) == (other.residual_amps, other.rounds)


@BENCH
@given(randoms, st.booleans())
def test_points_together_are_the_points_alone(rng: random.Random, is_linear: bool) -> None:
    """Of one random network, joints and all, with a random half of the branches left out of each point."""
    branches = draw_network(rng, is_linear=is_linear)
    points = [[branch for branch in branches if rng.random() < 0.7] for _ in range(12)]
    for found, closed in zip(solve_together([*points, branches], EARTH), [*points, branches], strict=True):
        agree(found, solve(closed, EARTH))


@BENCH
@given(randoms)
def test_a_point_has_the_same_digits_whatever_is_solved_beside_it(rng: random.Random) -> None:
    branches = [b for b in draw_network(rng, is_linear=False) if b.law != Resistance(0.0)]
    first = [branch for branch in branches if rng.random() < 0.7]
    others = [[branch for branch in branches if rng.random() < 0.7] for _ in range(5)]
    among = [branches, first, *others]
    found = solve_together([branches, first, branches, *others], EARTH)
    same_digits(solve_together(among, EARTH)[1], found[1])


def test_laws_in_rows_are_the_laws_one_by_one() -> None:
    laws = [
        Junction(0.7, 0.1),
        Filament(12.0, 1.75),
        Junction(0.0, 0.005),
        Filament(6.0, 0.1),
        Junction(2.0, 500.0),
    ]
    curves = Curves(laws)
    volts = [0.0, 1e-6, 0.01, 0.3, 0.7, 2.0, 5.0, 13.0, 500.0]
    volts += [-v for v in volts]
    across = curves.first_guess() * 0.0 + volts
    amps, slopes = curves.at(across)
    for row, law in enumerate(laws[i] for i in curves.order):
        assert amps[row].tolist() == pytest.approx([law.amps(v) for v in volts], rel=1e-12, abs=1e-18)
        assert slopes[row].tolist() == pytest.approx([law.siemens(v) for v in volts], rel=1e-12, abs=1e-18)


def test_where_a_law_has_its_current_are_its_volts() -> None:
    """Of a junction only where it conducts: below, leakage is all there is, and the volts given stay."""
    curves = Curves([Filament(12.0, 1.75), Filament(6.0, 0.1), Junction(0.0, 0.005), Junction(2.0, 500.0)])
    volts = [0.0, 1e-6, 0.01, 0.3, 2.0, 13.0]
    across = np.array([[*volts, *(-v for v in volts)]] * 2 + [volts * 2, [v + 2.5 for v in volts * 2]])
    amps, _ = curves.at(across)
    assert curves.nearer(across, across, amps) == pytest.approx(across)
    far = across + np.array([[1.0], [1.0], [0.0], [1.0]])
    assert curves.nearer(across, far, amps)[[0, 1, 3]] == pytest.approx(
        across[[0, 1, 3]], abs=1e-4
    )  # leakage
    off = np.array([[1.0], [1.0], [-5.0], [-5.0]])
    assert curves.nearer(off + 9.0, off, curves.at(off)[0]) == pytest.approx(off)


def test_hardly_any_point_has_to_be_solved_alone_and_few_take_many_rounds() -> None:
    rounds, unsettled = [], 0
    for seed in range(150):
        rng = random.Random(f"together {seed}")
        branches = [b for b in draw_network(rng, is_linear=False) if b.law != Resistance(0.0)]
        closed = np.array([[rng.random() < 0.75 for _ in range(8)] for _ in branches])
        batch = Batch(branches, closed, EARTH)
        rounds += batch.rounds.tolist()
        unsettled += int((~batch.settled).sum())
    assert unsettled <= 1
    assert sum(own <= 6 for own in rounds) > 0.9 * len(rounds)


def test_what_does_not_settle_together_is_solved_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    source = Branch(("source",), "30", EARTH, Emf(12.0, 0.5))
    lamp = Branch(("lamp",), "30", EARTH, Filament(12.0, 1.75))
    monkeypatch.setattr(newton, "MOST_ROUNDS", 1)
    (found,) = solve_together([[source, lamp]], EARTH)
    assert found == solve([source, lamp], EARTH) and found.rounds > 1


def test_no_points_and_points_without_branches() -> None:
    assert solve_together([], EARTH) == []
    (empty,) = solve_together([[]], EARTH)
    assert (dict(empty.volts), list(empty.amps)) == ({}, [])


def test_a_branch_that_is_open_floats_what_hangs_on_it() -> None:
    battery = Branch(("battery",), "30", EARTH, Emf(12.0, 0.5))
    switch = Branch(("switch",), "30", "x", Resistance(0.01))
    lamp = Branch(("lamp",), "x", "y", Filament(12.0, 1.75))
    other = Branch(("other",), "x", "y", Emf(6.0, 1.0))
    open_, closed = solve_together([[battery, lamp, other], [battery, switch, lamp, other]], EARTH)
    assert set(open_.volts) == {"30", EARTH} and set(open_.floating) == {"x", "y"}
    assert set(closed.volts) == {"30", EARTH, "x", "y"} and not closed.floating
    assert open_.amps[1] == pytest.approx(closed.amps[2]) and closed.volts["x"] == pytest.approx(12.0)


def test_impossible_values_are_refused_by_name() -> None:
    with pytest.raises(ValueError, match=r"^bad: a source needs a resistance of its own, got 0$"):
        solve_together([[Branch(("bad",), "30", EARTH, Emf(12.0, 0.0))]], EARTH)


def test_columns_have_a_row_for_each_node_and_branch() -> None:
    battery = Branch(("battery",), "30", EARTH, Emf(12.0, 0.5))
    lamp = Branch(("lamp",), "30", EARTH, Filament(12.0, 1.75))
    load = Branch(("load",), "30", EARTH, Resistance(5.5))
    batch = Batch([load, lamp, battery], np.array([[1, 0, 0], [0, 0, 1], [1, 1, 1]], dtype=bool), EARTH)
    assert batch.names == ["30", EARTH]
    assert batch.volts[0].tolist() == pytest.approx([11.0, 12.0, 12.0 - 0.5 * batch.amps[1, 2]])
    assert batch.amps[:, 0].tolist() == pytest.approx([2.0, 0.0, -2.0])
    assert batch.amps[:, 1].tolist() == pytest.approx([0.0, 0.0, 0.0], abs=1e-12)
    assert batch.settled.all() and batch.joined.all()


def test_columns_are_not_made_of_exact_joints() -> None:
    with pytest.raises(ValueError, match=r"^strap: such joints are solved one point at a time$"):
        Batch([Branch(("strap",), "31", EARTH, Resistance(0.0))], np.array([[True]]), EARTH)


@BENCH
@given(randoms)
def test_a_point_to_begin_from_changes_nothing(rng: random.Random) -> None:
    """Whether it is the point itself, one of other ohms, or one in which much else was closed."""
    branches = [b for b in draw_network(rng, is_linear=False) if b.law != Resistance(0.0)]
    closed = np.array([[rng.random() < 0.7 for _ in range(6)] for _ in branches])
    anew = solve_all(branches, closed, EARTH)
    longer = [
        b._replace(law=Resistance(2 * b.law.ohms)) if isinstance(b.law, Resistance) else b for b in branches
    ]
    others = solve_all(longer, closed, EARTH)
    for near in (anew, others, [*others[1:], None]):
        for found, expected in zip(solve_all(branches, closed, EARTH, near), anew, strict=True):
            agree(found, expected)
