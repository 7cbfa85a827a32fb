"""What hangs on a network by one end is left out where that pays, and told as if it had been solved."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_branches import EARTH, draw_network

from planner.currents import batch
from planner.currents.batch import solve_all
from planner.currents.hanging import Trees
from planner.currents.laws import Emf, Resistance
from planner.currents.outline import outline_of
from planner.currents.solver import Branch, Point, solve

BENCH = settings(max_examples=80, derandomize=True)
CLOSE_V = 1e-5  # on leakage alone
BATTERY = Branch(("battery",), "30", EARTH, Emf(12.0, 0.5))


@pytest.fixture(autouse=True)
def _always_sparse() -> object:
    """However small a network is."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(batch, "WORTH_NUMBERS", -1)
        patch.setattr(batch, "FEW_BRANCHES", 0)
        yield


def ohms(name: str, a: str, b: str, value: float = 1.0) -> Branch:
    return Branch((name,), a, b, Resistance(value))


def solved(branches: list[Branch]) -> Point:
    (found,) = solve_all(branches, np.ones((len(branches), 1), dtype=bool), EARTH)
    return found


def agree(found: Point, alone: Point, branches: list[Branch]) -> None:
    assert list(found.volts) == list(alone.volts)
    assert dict(found.volts) == pytest.approx(dict(alone.volts), abs=CLOSE_V)
    assert list(found.floating) == list(alone.floating)
    for branch in branches:
        if branch.a in alone.volts or branch.b in alone.volts:
            assert found.across(branch) == pytest.approx(alone.across(branch), abs=CLOSE_V)


@BENCH
@given(st.randoms(use_true_random=False), st.integers(2, 60))
def test_a_point_is_the_same_whatever_is_left_out(rng: random.Random, most: int) -> None:
    """Also in batches of few columns; of one network with a random part of the branches open in each."""
    branches = [b for b in draw_network(rng, is_linear=False) if b.law != Resistance(0.0)]
    closed = np.array([[rng.random() < share for share in (0.3, 0.5, 0.6, 0.7, 0.9, 1.0)] for _ in branches])
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(batch, "MOST_NUMBERS", most)
        points = solve_all(branches, closed, EARTH)
    for point, column in zip(points, closed.T, strict=True):
        own = [branch for branch, is_there in zip(branches, column, strict=True) if is_there]
        alone = solve(own, EARTH)
        agree(point, alone, branches)
        amps = [own for own, is_there in zip(point.amps, column, strict=True) if is_there]
        assert amps == pytest.approx(list(alone.amps), rel=1e-9, abs=1e-9)
        assert not any(own for own, is_there in zip(point.amps, column, strict=True) if not is_there)


@BENCH
@given(st.randoms(use_true_random=False))
def test_what_is_left_out_carries_nothing(rng: random.Random) -> None:
    branches = [b for b in draw_network(rng, is_linear=True) if b.law != Resistance(0.0)]
    trees = Trees(outline_of(branches, EARTH), branches, np.ones(len(branches), dtype=bool))
    amps = solve(branches, EARTH).amps
    assert all(abs(own) < 1e-9 for own, is_kept in zip(amps, trees.rows, strict=True) if not is_kept)
    ends = [end for b, is_kept in zip(branches, trees.rows, strict=True) if is_kept for end in b[1:3]]
    kept = {name for name, is_kept in zip(trees.outline.names, trees.kept, strict=True) if is_kept}
    assert kept == {*ends, EARTH}
    assert all(ends.count(node) > 1 for node in kept - {EARTH})


def test_volts_are_those_of_what_it_hangs_on_and_of_a_source_in_between() -> None:
    lamp = ohms("lamp", "30", EARTH, 5.5)
    hung = [ohms("wire", "30", "x"), Branch(("cell",), "y", "x", Emf(6.0, 1.0)), ohms("more", "y", "z")]
    back = [Branch(("turned",), "30", "low", Emf(2.0, 1.0))]
    found = solved([BATTERY, lamp, *hung, *back])
    assert "x" not in found.places and "low" not in found.places
    assert found.volts == pytest.approx({"30": 11.0, EARTH: 0.0, "low": 9.0, "x": 11.0, "y": 17.0, "z": 17.0})
    assert found.across(hung[1]) == pytest.approx(6.0) and not any(found.amps[2:])


def test_what_hangs_on_nothing_floats() -> None:
    apart = [Branch(("cell",), "p", "q", Emf(6.0, 1.0)), ohms("wire", "q", "r")]
    found = solved([BATTERY, ohms("lamp", "30", EARTH), *apart])
    assert set(found.floating) == {"p", "q", "r"} and set(found.volts) == {"30", EARTH}
    assert found.across(apart[0]) == 6.0 and found.across(apart[1]) == 0.0
    assert found.across(ohms("between", "30", "p")) == 0.0


def test_a_node_is_not_reached_where_all_that_ends_there_is_open() -> None:
    branches = [BATTERY, ohms("lamp", "30", EARTH), ohms("switch", "30", "x"), ohms("on", "x", "y")]
    closed = np.array([[1, 1], [1, 1], [0, 1], [0, 1]], dtype=bool)
    open_, shut = solve_all(branches, closed, EARTH)
    assert set(open_.volts) == {"30", EARTH} and not open_.floating
    assert open_.at("x") is None and open_.across(branches[2]) == 0.0 and open_.at("nowhere") is None
    assert shut.at("y") == pytest.approx((8.0, True))


def test_a_short_from_a_node_to_itself_still_carries_its_current() -> None:
    found = solved([BATTERY, ohms("wire", "30", "x"), Branch(("shorted",), "x", "x", Emf(6.0, 1.0))])
    assert found.amps[2] == pytest.approx(solve([Branch(("s",), "x", "x", Emf(6.0, 1.0))], EARTH).amps[0])
