"""Random networks with resistance: sources, thick and thin wires, exact joints, lamps, LEDs and diodes."""

import random
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planner.currents.batch import solve_all
from planner.currents.laws import Emf, Filament, Junction, Law, Resistance
from planner.currents.solver import Branch, Point

EARTH = "earth"
SUPPLY_V = 12.0
WATTS = (1.2, 2.2, 5.0, 10.0, 21.0, 45.0, 60.0)


def draw_network(rng: random.Random, *, is_linear: bool) -> list[Branch]:
    """Up to a dozen nodes and some twice as many branches; what is thrown together may float or dangle."""
    nodes = [EARTH, *(f"n{number}" for number in range(rng.randint(2, 11)))]
    laws: list[tuple[str, Law]] = [
        ("source", Emf(rng.uniform(0.9, 1.2) * SUPPLY_V, rng.choice((0.01, 0.05, 0.5))))
        for _ in range(rng.choice((1, 1, 2, 3)))
    ]
    laws += [_draw_law(rng, is_linear=is_linear) for _ in range(rng.randint(2, 2 * len(nodes)))]
    branches = []
    for number, (kind, law) in enumerate(laws):
        a, b = rng.sample(nodes, 2)
        if number == 0:
            a, b = rng.choice(nodes[1:]), EARTH  # at least one source is not thrown in anywhere
        branches.append(Branch((kind, str(number)), a, b, law))
    rng.shuffle(branches)
    return branches


def _draw_law(rng: random.Random, *, is_linear: bool) -> tuple[str, Law]:
    kinds = (
        ["wire", "wire", "coil"] if is_linear else ["wire", "wire", "coil", "lamp", "lamp", "led", "diode"]
    )
    kind = rng.choice(kinds) if rng.random() > 0.04 else "joint"
    ohms = 10 ** rng.uniform(-3, 3)
    law: Law
    match kind:
        case "joint":
            law = Resistance(0.0)
        case "wire":
            law = Resistance(ohms)
        case "coil":
            law = Resistance(rng.choice((40.0, 80.0, 150.0)))
        case "lamp":
            law = Filament(SUPPLY_V, rng.choice(WATTS) / SUPPLY_V)
        case "led":
            law = Junction(2.0, rng.choice((100.0, 500.0)))
        case _:
            drop = rng.choice((0.0, 0.3, 0.6, 0.7))
            law = Junction(drop, rng.choice((0.01, 0.1)))
    return kind, law


def solve_together(points: Sequence[Sequence[Branch]], zero: str) -> list[Point]:
    """Solve sets of closed branches as positions of one loom; the amps of each are those of its branches.

    All stand in the order of the longest set: of exact joints side by side the first one takes the current.
    """
    known = {id(branch): branch for own in sorted(points, key=len, reverse=True) for branch in own}
    row = {number: n for n, number in enumerate(known)}
    closed = np.zeros((len(known), len(points)), dtype=bool)
    for column, own in enumerate(points):
        closed[[row[id(branch)] for branch in own], column] = True
    found = solve_all(list(known.values()), closed, zero)
    return [
        replace(point, amps=[point.amps[row[id(branch)]] for branch in own])
        for point, own in zip(found, points, strict=True)
    ]
