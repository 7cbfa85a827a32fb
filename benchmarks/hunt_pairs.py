"""Hunts for two mistakes at once, drawn by lot from those of which neither hides the other.

With both something looks otherwise than with either alone: what one hides of the other is found once the
one is mended.
"""

import random
from itertools import zip_longest

import numpy as np

from benchmarks.hunt_bench import Bench
from planner.model.observations import Observation
from planner.testing.hunt.hunt import Hunt

MOST_SYMPTOMS = 8  # told at first
MOST_DRAWN = 60  # for one pair that can be hunted: in a small job there may be none


def hunt_pairs(bench: Bench, count: int) -> tuple[int, list[str]]:
    """Hunt for so many pairs: how many were hunted, and those that did not end among the first three."""
    vehicle, lots = bench.vehicle, random.Random(f"{bench.job} pairs")
    hunted, missed = 0, []
    for _ in range(count * MOST_DRAWN):
        if hunted == count or vehicle.singles < 3:
            break
        one, other = lots.sample(range(1, vehicle.singles), 2)
        pair = vehicle.pair(one, other)
        symptoms = [] if pair is None else _symptoms(bench, pair, (one, other))
        if pair is None or not symptoms:
            continue
        hunted += 1
        hunt, taken = bench.hunt(symptoms, pair)
        truth = set(vehicle.worlds[pair].mistakes)
        if truth not in [set(mistakes) for each in _first_groups(hunt, 3) for mistakes in each]:
            missed.append(f"{vehicle.words(pair)} [{len(symptoms)} symptoms; {taken}]")
    return hunted, missed


def _symptoms(bench: Bench, pair: int, alone: tuple[int, int]) -> list[Observation]:
    """What looks otherwise with both and not with one of them alone, in turn; nothing if one hides."""
    seen = dict.fromkeys(bench.looks(pair))
    beside = [seen.keys() - set(bench.looks(world)) for world in alone]
    if not all(beside):
        return []
    turns = list(zip_longest(*(sorted(each, key=lambda s: (s.settings, s.at)) for each in beside)))
    told = {s: None for s in turns[0] if s is not None}  # of each something, be it of the same load
    for some in turns[1:]:
        told |= {s: None for s in some if s is not None and s.at not in {other.at for other in told}}
    return list(told)[:MOST_SYMPTOMS]


def _first_groups(hunt: Hunt, count: int) -> list[list[tuple[int, ...]]]:
    """The likeliest groups of suspects; those that go equally well with everything are one group."""
    groups: dict[tuple[float, ...], list[tuple[int, ...]]] = {}
    for suspect in hunt.suspects:
        own = np.array([suspect.world])
        agreed = tuple(round(float(hunt.agreement(n, own)[0]), 1) for n in range(len(hunt.observations)))
        groups.setdefault(agreed, []).append(suspect.mistakes)
    chance = {s.mistakes: s.chance for s in hunt.suspects}
    return sorted(groups.values(), key=lambda each: -sum(chance[m] for m in each))[:count]
