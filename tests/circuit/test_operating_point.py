"""The solver against exact fractions on random networks, and its own laws: currents and power balance."""

from fractions import Fraction

import pytest
from exact import solve_exactly
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.circuit.operating_point import Element, solve

LIVE, EARTH = -1, 0
FREE = 5  # free nodes 1 to 5
SUPPLY = {LIVE: 12.0, EARTH: 0.0}
BENCH = settings(max_examples=250, derandomize=True)

free = st.integers(1, FREE)
nodes = st.integers(LIVE, FREE)
ohms = st.sampled_from((0.5, 1.0, 2.0, 3.0, 7.0, 24.0, 60.0, 150.0))


@st.composite
def resistances(draw: st.DrawFn) -> Element:
    a, b = draw(st.lists(nodes, min_size=2, max_size=2, unique=True))
    return Element(a, b, draw(ohms), None)


@st.composite
def joints(draw: st.DrawFn) -> Element:
    """A joint never joins two poles: the factoring has found such a short before anything is solved."""
    a, b = draw(st.lists(free, min_size=2, max_size=2, unique=True))
    return Element(a, b, 0.0, None)


@st.composite
def diodes(draw: st.DrawFn) -> Element:
    """An LED with its resistor, so that no pattern of diodes makes a short."""
    a, b = draw(st.lists(nodes, min_size=2, max_size=2, unique=True))
    return Element(a, b, draw(ohms), draw(st.sampled_from((0.0, 0.5, 2.0))))


def fixed_of(elements: list[Element]) -> dict[int, float]:
    """The poles that the elements touch, as the factoring hands them over."""
    return {node: volts for node, volts in SUPPLY.items() if any(node in (e.a, e.b) for e in elements)}


@BENCH
@given(st.lists(resistances(), min_size=1, max_size=8), st.lists(joints(), max_size=3))
def test_resistances_and_joints_agree_with_exact_fractions(some: list[Element], ties: list[Element]) -> None:
    elements = some + ties
    (exact,) = solve_exactly(elements, fixed_of(elements))
    solution = solve(elements, fixed_of(elements))
    assert solution.settled
    for i, amps in exact.amps.items():
        assert solution.amps[i] == pytest.approx(float(amps), abs=1e-9)
    floating = {n for e in elements for n in (e.a, e.b)} - set(exact.volts)
    assert not floating & set(solution.volts), "a node that nothing joins to a pole has no voltage"
    for node, volts in solution.volts.items():
        assert volts == pytest.approx(float(exact.volts[node]), abs=1e-9)


@BENCH
@given(
    st.lists(resistances(), max_size=5),
    st.lists(diodes(), min_size=1, max_size=5),
    st.lists(joints(), max_size=2),
)
def test_diodes_agree_with_every_pattern_tried(
    some: list[Element], leds: list[Element], ties: list[Element]
) -> None:
    elements = some + leds + ties
    fixed = fixed_of(elements)
    every = solve_exactly(elements, fixed)
    assert every, "some pattern must hold"
    solution = solve(elements, fixed)
    assert solution.settled
    for exact in every:
        for i, amps in exact.amps.items():
            assert solution.amps[i] == pytest.approx(float(amps), abs=1e-8)


@BENCH
@given(
    st.lists(resistances(), min_size=2, max_size=6),
    st.lists(diodes(), max_size=3),
    st.lists(joints(), max_size=3),
)
def test_currents_sum_to_zero_and_power_balances(
    some: list[Element], leds: list[Element], ties: list[Element]
) -> None:
    elements = some + leds + ties
    fixed = fixed_of(elements)
    solution = solve(elements, fixed)
    out = dict.fromkeys(range(LIVE, FREE + 1), 0.0)
    burnt = 0.0
    for element, amps in zip(elements, solution.amps, strict=True):
        out[element.a] += amps
        out[element.b] -= amps
        burnt += amps * amps * element.ohms + amps * (element.drop_v or 0.0)
    for node in range(1, FREE + 1):
        assert out[node] == pytest.approx(0.0, abs=1e-8)
    assert burnt == pytest.approx(12.0 * out[LIVE], abs=1e-6)


IDEAL = 0.0


@pytest.mark.parametrize(
    ("elements", "amps"),
    [
        # 12 - 0.7 - 0.7 = 10.6 V over 10.6 ohm; the nodes between the diodes float until both conduct.
        ([Element(LIVE, 1, IDEAL, 0.7), Element(1, 2, 10.6, None), Element(2, EARTH, IDEAL, 0.7)], (1, 1, 1)),
        # Three in a row through two floating nodes: (12 - 3 * 2) / 6 ohm.
        ([Element(LIVE, 1, 2.0, 2.0), Element(1, 2, 2.0, 2.0), Element(2, EARTH, 2.0, 2.0)], (1, 1, 1)),
        # The middle one the wrong way round: nothing.
        ([Element(LIVE, 1, 2.0, 2.0), Element(2, 1, 2.0, 2.0), Element(2, EARTH, 2.0, 2.0)], (0, 0, 0)),
        # Seven drops of 2 V are more than 12 V: nothing.
        ([Element(n or LIVE, n + 1 if n < 6 else EARTH, 1.0, 2.0) for n in range(7)], (0,) * 7),
        # Of two ways the lower drop takes all: 12 - 0.3 = 11.7 V over 11.7 ohm.
        (
            [Element(LIVE, 1, IDEAL, 0.7), Element(LIVE, 1, IDEAL, 0.3), Element(1, EARTH, 11.7, None)],
            (0, 1, 1),
        ),
    ],
    ids=["two-round-a-load", "three-in-a-row", "one-reversed", "too-many-drops", "lower-drop-wins"],
)
def test_diodes_conduct_through_what_floats(elements: list[Element], amps: tuple[float, ...]) -> None:
    solution = solve(elements, fixed_of(elements))
    assert solution.settled
    assert solution.amps == pytest.approx(amps)


def test_exact_method_knows_ohms_law() -> None:
    (exact,) = solve_exactly([Element(LIVE, 1, 2.0, None), Element(1, EARTH, 4.0, None)], SUPPLY)
    assert exact.volts[1] == Fraction(8)
    assert exact.amps == {0: Fraction(2), 1: Fraction(2)}
