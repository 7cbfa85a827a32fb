"""Diagnosis as such: candidates with weights, what each foretells, and which question tells most.

Nothing here knows of vehicles. A candidate is one way in which things may be; candidates of one group count
as one answer. What a question may bring is a table with a row for each candidate and a column for each
outcome: the chance of the outcome if the candidate is true. De Kleer and Williams 1987 choose the question
after which least entropy is expected; here that is said as information, the entropy that goes.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array

Groups = NDArray[np.intp]


def shares(weights: Array) -> Array:
    """Weights as probabilities."""
    total = weights.sum()
    return weights / total if total > 0.0 else weights


def entropy(probabilities: Array) -> float:
    """How much is not known, in bits."""
    some = probabilities[probabilities > 0.0]
    return float(-(some * np.log2(some)).sum())


def grouped(weights: Array, groups: Groups) -> Array:
    """The weights of groups, numbered from 0."""
    found: Array = np.zeros(int(groups.max(initial=-1)) + 1)
    np.add.at(found, groups, weights)
    return found


def information(weights: Array, outcomes: Array, groups: Groups | None = None) -> float:
    """The bits by which a question is expected to lessen what is not known of the groups.

    ``outcomes`` has a row for each candidate and a column for each outcome. Without groups every candidate
    is one of its own.
    """
    return float(informations(weights, outcomes[:, None, :], groups)[0])


def informations(weights: Array, outcomes: Array, groups: Groups | None = None) -> Array:
    """The same for many questions at once, which are the middle axis of ``outcomes``."""
    chances = shares(weights)
    joint = chances[:, None, None] * outcomes
    if groups is not None:
        order = np.argsort(groups, kind="stable")
        starts = np.flatnonzero(np.diff(groups[order], prepend=-1))
        if len(starts) < len(groups):
            joint = np.add.reduceat(joint[order], starts, axis=0)
    found: Array = (
        _entropies(joint.sum(axis=0), 1) + _entropies(joint.sum(axis=2), 0) - _entropies(joint, (0, 2))
    )
    return found


def _entropies(probabilities: Array, axis: int | tuple[int, ...]) -> Array:
    found: Array = -(probabilities * np.log2(np.maximum(probabilities, 1e-300))).sum(axis=axis)
    return found


def after(weights: Array, likelihoods: Array) -> Array:
    """The probabilities once something was seen that each candidate foretold with some likelihood."""
    return shares(weights * likelihoods)


def best(values: Sequence[float]) -> int:
    """The first of the greatest; values that differ by rounding only are equal."""
    most = max(values)
    return next(n for n, value in enumerate(values) if value > most - 1e-9)
