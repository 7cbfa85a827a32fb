"""Operating points of networks that share most branches and have a few of their own."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planner.currents.batch import solve_all
from planner.currents.solver import Branch, Point


def solve_sets(sets: Sequence[Sequence[Branch]], zero: str) -> list[Point]:
    """Solve sets of closed branches, all together; amps are in the order of each set."""
    place: dict[int, int] = {}
    known: list[Branch] = []
    for branch in (branch for own in sets for branch in own):
        if id(branch) not in place:
            place[id(branch)] = len(known)
            known.append(branch)
    rows = [[place[id(branch)] for branch in own] for own in sets]
    closed = np.zeros((len(known), len(sets)), dtype=bool)
    for column, own in enumerate(rows):
        closed[own, column] = True
    return [
        replace(point, amps=[point.amps[row] for row in own])
        for own, point in zip(rows, solve_all(known, closed, zero) if sets else (), strict=True)
    ]
