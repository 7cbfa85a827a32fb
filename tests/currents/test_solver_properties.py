"""What must hold of every network: power, currents, and that nothing hangs on how it is written down."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_branches import EARTH, draw_network

from planner.currents.laws import Emf, Filament, Junction, Law, Resistance
from planner.currents.solver import Branch, Point, solve

BENCH = settings(max_examples=150, derandomize=True)
randoms = st.randoms(use_true_random=False)
# What only leakage of 0.1 uS holds: this is 1e-12 A there, the last digits of a source's 1,000 A.
CLOSE_V = 1e-5


def drawn(rng: random.Random, *, is_linear: bool = False) -> tuple[list[Branch], Point]:
    """A network and its operating point."""
    branches = draw_network(rng, is_linear=is_linear)
    point = solve(branches, EARTH)
    assert not point.unsettled
    return branches, point


@BENCH
@given(randoms)
def test_power_delivered_is_power_dissipated(rng: random.Random) -> None:
    branches, point = drawn(rng)
    delivered = dissipated = 0.0
    for branch, amps in zip(branches, point.amps, strict=True):
        if isinstance(branch.law, Emf):
            delivered -= branch.law.volts * amps
            dissipated += branch.law.ohms * amps * amps
        else:
            own = point.across(branch) * amps
            assert own >= -1e-9, branch
            dissipated += own
    assert delivered == pytest.approx(dissipated, rel=1e-9, abs=1e-9)


@BENCH
@given(randoms)
def test_currents_sum_to_zero_at_each_node(rng: random.Random) -> None:
    branches, point = drawn(rng)
    sums: dict[str, float] = {}
    for branch, amps in zip(branches, point.amps, strict=True):
        sums[branch.a] = sums.get(branch.a, 0.0) - amps
        sums[branch.b] = sums.get(branch.b, 0.0) + amps
    largest = max(map(abs, point.amps))
    assert max(map(abs, sums.values())) <= 1e-9 * max(1.0, largest)
    assert point.residual_amps == max(map(abs, sums.values()))


@BENCH
@given(randoms)
def test_every_current_is_what_its_law_says(rng: random.Random) -> None:
    branches, point = drawn(rng)
    for branch, amps in zip(branches, point.amps, strict=True):
        if branch.law != Resistance(0.0):
            expected = branch.law.amps(point.across(branch))
            # Rounding of 12 V across a thousandth of an ohm.
            assert amps == pytest.approx(expected, rel=1e-9, abs=1e-10), branch
        else:
            assert point.across(branch) == 0.0


@BENCH
@given(randoms, st.sampled_from([1e-3, 0.1, 6.0, 150.0]))
def test_a_parallel_load_never_raises_the_voltage_across_it(rng: random.Random, ohms: float) -> None:
    branches, point = drawn(rng)
    a, b = rng.choice(sorted(point.volts)), rng.choice(sorted(point.volts))
    loaded = solve([*branches, Branch(("more",), a, b, Resistance(ohms))], EARTH)
    across_before, across_after = point.volts[a] - point.volts[b], loaded.volts[a] - loaded.volts[b]
    assert abs(across_after) <= abs(across_before) + CLOSE_V


@BENCH
@given(randoms, st.floats(0.01, 100.0))
def test_scaling_all_resistances_leaves_the_volts(rng: random.Random, factor: float) -> None:
    branches, point = drawn(rng, is_linear=True)
    branches.append(Branch(("lamp",), branches[0].a, branches[0].b, Filament(12.0, 1.75)))
    point = solve(branches, EARTH)
    scaled = solve([b._replace(law=_scaled(b.law, factor)) for b in branches], EARTH)
    assert scaled.volts == pytest.approx(point.volts, abs=CLOSE_V)
    own = [(b, amps) for b, amps in zip(branches, scaled.amps, strict=True) if b.law != Resistance(0.0)]
    for (branch, amps), before in zip(
        own, (a for b, a in zip(branches, point.amps, strict=True) if b.law != Resistance(0.0)), strict=True
    ):
        assert amps * factor == pytest.approx(before, rel=1e-6, abs=1e-6), branch


def _scaled(law: Law, factor: float) -> Law:
    match law:
        case Emf(volts=volts, ohms=ohms):
            return Emf(volts, ohms * factor)
        case Resistance(ohms=ohms):
            return Resistance(ohms * factor)
        case Filament(rated_v=volts, rated_amps=amps):
            return Filament(volts, amps / factor)
        case _:
            raise AssertionError(f"leakage does not scale: {law}")


@BENCH
@given(randoms)
def test_a_network_with_all_poles_turned_is_its_mirror_image(rng: random.Random) -> None:
    branches, point = drawn(rng)
    turned = solve([_turned(branch) for branch in branches], EARTH)
    assert turned.volts == pytest.approx({node: -volts for node, volts in point.volts.items()}, abs=CLOSE_V)
    assert set(turned.floating) == set(point.floating)


def _turned(branch: Branch) -> Branch:
    match branch.law:
        case Emf(volts=volts, ohms=ohms):
            return branch._replace(law=Emf(-volts, ohms))
        case Junction():
            return branch._replace(a=branch.b, b=branch.a)
        case _:
            return branch


@BENCH
@given(randoms)
def test_order_and_names_do_not_matter(rng: random.Random) -> None:
    branches, point = drawn(rng)
    nodes = sorted({node for branch in branches for node in (branch.a, branch.b)})
    names = dict(zip(nodes, rng.sample([f"x{n}" for n in range(100)], len(nodes)), strict=True))
    names |= {EARTH: "31"}
    shuffled = rng.sample(branches, len(branches))
    other = solve([b._replace(a=names[b.a], b=names[b.b]) for b in shuffled], "31")
    assert other.volts == pytest.approx({names[n]: v for n, v in point.volts.items()}, abs=CLOSE_V)
    assert set(other.floating) == {names[n] for n in point.floating}


@BENCH
@given(randoms)
def test_which_node_is_called_zero_changes_no_voltage_across_anything(rng: random.Random) -> None:
    branches, point = drawn(rng)
    zero = rng.choice(sorted(point.volts))
    other = solve(branches, zero)
    shifted = {node: volts - point.volts[zero] for node, volts in point.volts.items()}
    assert other.volts == pytest.approx(shifted, abs=CLOSE_V)
