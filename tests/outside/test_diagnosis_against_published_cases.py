"""Published cases of diagnosis, through the core that hunts in vehicles.

Polybox and the four conflicts and diagnoses: de Kleer and Williams, Diagnosing Multiple Faults, Artificial
Intelligence 32 (1987); inputs, observation and kernel diagnosis confirmed by course slides, the list of all
diagnoses from memory and recomputed. Inverters: a thesis of Delft University of Technology, probabilities
confirmed; entropies computed. Ten lamps: a Polish lecture on measurement, four readings confirmed, bits and
3.4 on average computed.
"""

from collections.abc import Iterable
from itertools import product
from math import log2

import numpy as np
import pytest

from planner.testing.hunt.conflicts import conflicts, diagnoses, least
from planner.testing.hunt.weighing import after, best, entropy, grouped, information, shares

A1, A2, M1, M2, M3 = range(5)
FAULTY = 0.01


def polybox_states() -> list[tuple[bool, ...]]:
    """The health states that explain f = 10 and g = 12: whether each part is sound."""
    found = []
    for sound in product((True, False), repeat=5):
        xs = [6] if sound[M1] else range(-20, 21)
        ys = [6] if sound[M2] else range(-20, 21)
        zs = [6] if sound[M3] else range(-20, 21)
        fits = any(
            (not sound[A1] or any(x + y == 10 for x in xs))
            and (not sound[A2] or any(y + z == 12 for z in zs))
            for y in ys
        )
        if fits:
            found.append(sound)
    return found


def hitting_sets(sets: Iterable[frozenset[int]]) -> set[frozenset[int]]:
    """The least sets that have something in common with each of some sets."""
    found: set[frozenset[int]] = {frozenset()}
    for each in sets:
        found = least({hit if hit & each else hit | {one} for hit in found for one in each})
    return found


def expected_entropy(weights: np.ndarray, outcomes: np.ndarray, groups: np.ndarray) -> float:
    """The bits that are expected to be left after a reading."""
    return entropy(grouped(shares(weights), groups)) - information(weights, outcomes, groups)


def test_polybox_has_its_published_conflicts_and_diagnoses() -> None:
    states = polybox_states()
    assert len(states) == 27
    named = {frozenset(c) for c in conflicts(states, most=5)}
    assert named == {frozenset({A1, M1, M2}), frozenset({A1, A2, M1, M3})}
    published = {frozenset({A1}), frozenset({M1}), frozenset({A2, M2}), frozenset({M2, M3})}
    assert set(diagnoses(states)) == published
    assert hitting_sets(named) == published


def test_polybox_has_its_probabilities() -> None:
    states = polybox_states()
    weights = np.array([np.prod([1 - FAULTY if ok else FAULTY for ok in state]) for state in states])
    chance = dict(zip(states, shares(weights), strict=True))
    only_a1 = tuple(part != A1 for part in range(5))
    assert chance[only_a1] == pytest.approx(0.478026, abs=1e-6)
    pair = tuple(part not in (A2, M2) for part in range(5))
    assert chance[pair] == pytest.approx(0.004829, abs=1e-6)
    faulty = [sum(p for state, p in chance.items() if not state[part]) for part in (A1, M1, M2, M3, A2)]
    assert faulty == pytest.approx([0.49764, 0.49764, 0.01961, 0.01478, 0.01478], abs=1e-5)


def inverter_worlds(count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Weights, groups and outputs of a chain with 1 at its input; a faulty output is 0 or 1 with 1/2 each."""
    weights, groups, outputs = [], [], []
    for group, state in enumerate(product((True, False), repeat=count)):
        for values in product((0, 1), repeat=count):
            level, weight = 1, 1.0
            for sound, value in zip(state, values, strict=True):
                weight *= (1 - FAULTY) * (value == 1 - level) if sound else FAULTY / 2
                level = value
            if weight:
                weights.append(weight)
                groups.append(group)
                outputs.append(values)
    return np.array(weights), np.array(groups), np.array(outputs)


def reading(outputs: np.ndarray, at: int) -> np.ndarray:
    """The chance of 0 and of 1 at one output, in each world."""
    return np.stack((outputs[:, at] == 0, outputs[:, at] == 1), axis=1).astype(float)


def test_inverters_have_their_states_and_entropy_before_anything_is_seen() -> None:
    weights, groups, outputs = inverter_worlds(4)
    states = np.bincount(groups, weights)
    assert len(states) == 16
    assert states.max() == pytest.approx(0.96059601)
    assert sorted(states)[-2] == pytest.approx(0.00970299)
    assert entropy(states) == pytest.approx(0.32317, abs=1e-5)
    left = [expected_entropy(weights, reading(outputs, n), groups) for n in range(4)]
    assert left == pytest.approx([0.28776, 0.26261, 0.24142, 0.22281], abs=1e-5)
    assert best([-each for each in left]) == 3


@pytest.mark.parametrize(
    ("count", "wrong", "single", "double", "bits"),
    [(4, 0, 0.246244, 0.002487, 2.12211), (3, 1, 0.329989, 0.003333, None)],
)
def test_inverters_with_a_wrong_output_have_their_diagnoses(
    count: int, wrong: int, single: float, double: float, bits: float | None
) -> None:
    weights, groups, outputs = inverter_worlds(count)
    states = np.bincount(groups, after(weights, reading(outputs, count - 1)[:, wrong]))
    by_faults: dict[int, set[float]] = {}
    for chance, state in zip(states, product((True, False), repeat=count), strict=True):
        by_faults.setdefault(state.count(False), set()).add(round(float(chance), 6))
    assert by_faults[1] == {single}
    assert by_faults[2] == {double}
    if bits is not None:
        assert entropy(states) == pytest.approx(bits, abs=1e-5)
        seen = float((weights * reading(outputs, 3)[:, wrong]).sum())
        assert seen == pytest.approx(0.019702, abs=1e-6)


@pytest.mark.parametrize(
    ("count", "wrong", "left", "first"),
    [(4, 0, [1.31835, 1.13216, 1.31835], 1), (3, 1, [0.75465, 0.75465], 0)],
)
def test_the_middle_of_inverters_is_the_best_place_to_read(
    count: int, wrong: int, left: list[float], first: int
) -> None:
    weights, groups, outputs = inverter_worlds(count)
    weights = after(weights, reading(outputs, count - 1)[:, wrong])
    found = [expected_entropy(weights, reading(outputs, n), groups) for n in range(count - 1)]
    assert found == pytest.approx(left, abs=1e-5)
    assert best([-each for each in found]) == first


def hunt_for_lamp(broken: int, lamps: int = 10) -> int:
    """How many readings across runs of lamps find the open one, each time the most telling run."""
    weights = np.full(lamps, 1 / lamps)
    taken = 0
    while (weights > 0).sum() > 1:
        runs = [(a, b) for a in range(lamps) for b in range(a + 1, lamps + 1)]
        tables = [np.array([[a <= n < b, not a <= n < b] for n in range(lamps)], float) for a, b in runs]
        n = best([information(weights, table) for table in tables])
        a, b = runs[n]
        weights = after(weights, tables[n][:, 0 if a <= broken < b else 1])
        taken += 1
    assert weights.argmax() == broken
    return taken


def test_ten_lamps_in_series_take_four_readings_at_worst_and_3_4_on_average() -> None:
    taken = [hunt_for_lamp(broken) for broken in range(10)]
    assert max(taken) == 4
    assert sum(taken) / 10 == pytest.approx(3.4)
    bits = [
        information(np.ones(n), np.array([[k < half, k >= half] for k in range(n)], float))
        for n, half in ((10, 5), (5, 3), (3, 2), (2, 1))
    ]
    assert bits == pytest.approx([1.0, 0.9710, 0.9183, 1.0], abs=1e-4)
    assert entropy(np.full(10, 0.1)) == pytest.approx(log2(10))
