"""The most that each branch carries, looked at again after an edit, is that of all samples from nothing."""

import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import pytest

from planner.currents.amps import Amps
from planner.currents.carried import Carried
from planner.currents.sample import changed_among

BRANCHES, SAMPLES = 6, 8


@dataclass(eq=False)
class Drawn:
    """What is read of a sample."""

    amps: Amps
    held: int
    moved: tuple[tuple[str, int], ...] = ()

    @property
    def live(self) -> Sequence[int]:
        return self.amps.live

    @property
    def sizes(self) -> list[float]:
        return [abs(own) for own in self.amps.own]


def drawn(chance: random.Random) -> list[Any]:
    return [
        Drawn(
            Amps.of([chance.choice([0.0, 1.0, -2.0, 3.0]) for _ in range(BRANCHES)]),
            chance.choice([0, 0, 0, 1]),
        )
        for _ in range(SAMPLES)
    ]


def moved(samples: list[Any], chance: random.Random) -> list[Any]:
    """The samples with some of them solved again: what carried anything still does."""
    found = list(samples)
    for number in chance.sample(range(SAMPLES), 3):
        amps = [own * chance.choice([0.5, 1.0, 1.0 + 1e-12, 2.0]) for own in found[number].amps]
        found[number] = Drawn(Amps.of(amps), found[number].held)
    return found


@pytest.mark.parametrize("seed", range(100))
def test_the_most_is_the_same_as_from_nothing(seed: int) -> None:
    chance = random.Random(seed)
    samples = drawn(chance)
    like = Carried(samples)
    for _ in range(4):
        samples = moved(samples, chance)
        changed = changed_among(samples, like.samples)
        assert changed
        taken, anew = Carried(samples, like, changed), Carried(samples)
        assert taken.peaks == anew.peaks
        assert taken.lasting_peaks == anew.lasting_peaks
        assert all(taken.at(index) == anew.at(index) for index in range(BRANCHES))
        like = taken


@pytest.mark.parametrize("change", ["other branches live", "held", "elsewhere", "one less"])
def test_samples_that_do_not_stand_for_one_another_are_not_taken_for_the_same(change: str) -> None:
    first: Any = Drawn(Amps.of([0.0, *[9.0] * (BRANCHES - 1)]), 0)
    samples = [first, *drawn(random.Random(1))]
    others = list(samples)
    if change == "other branches live":
        others[0] = Drawn(Amps.of([0.0 if own else 9.0 for own in first.amps]), first.held)
    elif change == "held":
        others[0] = Drawn(first.amps, 1 - first.held)
    elif change == "elsewhere":
        others[0] = Drawn(first.amps, first.held, (("lights", 1),))
    else:
        del others[0]
    assert changed_among(samples, list(samples)) == []
    assert changed_among(others, samples) is None
