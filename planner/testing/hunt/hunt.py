"""One hunt: what was seen so far, how likely each mistake is by that, and when it is over."""

from dataclasses import dataclass
from functools import cached_property
from itertools import takewhile

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array
from planner.model.observations import Observation, ObservationKind
from planner.testing.hunt.agreeing import agrees
from planner.testing.hunt.conflicts import conflicts, diagnoses
from planner.testing.hunt.known import Known
from planner.testing.hunt.pairing import Pairing
from planner.testing.hunt.per_world import PerWorld, Worlds
from planner.testing.hunt.tolerance import DISAGREES
from planner.testing.hunt.vehicle import NOTHING

LIVE = 1e-3  # of the likeliest: a world with less is left out of what costs time, until it may matter again
TOGETHER = 50  # pairs that are weighed together: the best of them leave out many of those that follow
# Kinds of observations: looked up; one network for all; one for each setting; one for each world and reading.
QUICKEST: tuple[ObservationKind, ...] = ("sits", "ohms", "looks", "fuse", "volts", "warm", "lamp")
LEADING = 4  # worlds whose mistakes, so many, are tried beside others
MOST_RANKED = 24  # worlds that keep their rank, however far they are behind


@dataclass(frozen=True, slots=True)
class Suspect:
    """What may be wrong: one mistake or two, its probability, and its likeliest world."""

    mistakes: tuple[int, ...]
    chance: float
    world: int
    unexplained: tuple[int, ...]  # the observations that do not go with it, by number


class Hunt:
    """The observations of one hunt and what follows from them."""

    def __init__(self, known: Known) -> None:
        self.known, self.vehicle = known, known.vehicle
        self.observations: list[Observation] = []
        self._agreed: list[PerWorld] = []  # with each observation
        self._forget()

    def add(self, observation: Observation) -> None:
        """Take in what was seen."""
        is_told = all(seen.kind == "looks" for seen in (*self.observations, observation))
        self.observations.append(observation)
        self._agreed.append(
            PerWorld(lambda worlds: agrees(observation, self.known.outlook, worlds, is_told=is_told))
        )
        self._forget()

    def withdraw(self, number: int) -> Observation:
        """Take back the observation of that number, counted from 0."""
        taken = self.observations.pop(number)
        self._agreed.pop(number)
        self._forget()
        return taken

    def _forget(self) -> None:
        for name in ("_weighed", "suspects"):
            self.__dict__.pop(name, None)

    def agreement(self, number: int, worlds: Worlds) -> Array:
        """How well worlds agree with the observation of that number."""
        return self._agreed[number][worlds]

    @property
    def is_before_power(self) -> bool:
        """Whether all that was seen was seen with the fuses out: then the battery stays off too."""
        return any(seen.has_fuses_out for seen in self.observations) and all(
            seen.kind == "sits" or seen.has_fuses_out for seen in self.observations
        )

    @property
    def has_pairs(self) -> bool:
        """Whether two mistakes at once were tried, since one alone does not explain everything."""
        return bool((self.worlds >= self.vehicle.singles).any())

    @property
    def worlds(self) -> Worlds:
        """The worlds that are live, likeliest first."""
        return self._weighed[0]

    @property
    def weights(self) -> Array:
        """Their probabilities."""
        return self._weighed[1]

    @cached_property
    def _weighed(self) -> tuple[Worlds, Array]:
        singles = np.arange(self.vehicle.singles)
        worlds, weights = self._live(singles)
        if self.observations and (not self._is_explained(worlds) or self._may_be_two()):
            worlds, weights = self._with_pairs(worlds, weights)
        order = np.argsort(-weights, kind="stable")
        return worlds[order], weights[order] / weights.sum()

    def _live(self, worlds: Worlds) -> tuple[Worlds, Array]:
        """Those of some worlds that are not far behind after all observations, and their weights.

        An observation only lessens a weight. So a world is asked about the next one only while it has more
        than a share of what the best comes to after the last: most are asked about the first one only.
        """
        count, weights = len(self.observations), self.vehicle.weights[worlds]
        taken = np.zeros(len(worlds), dtype=int)
        while True:
            is_done = taken == count
            open_ = np.where(is_done, 0.0, weights)
            asked = open_ > LIVE * max(open_.max(initial=0.0), weights[is_done].max(initial=0.0))
            if not asked.any():
                break
            for number in np.unique(taken[asked]).tolist():
                some = np.flatnonzero(asked & (taken == number))
                weights[some] *= self.agreement(number, worlds[some])
                taken[some] += 1
        worlds, weights = worlds[is_done], weights[is_done]
        keep = weights > LIVE * weights.max(initial=0.0)
        keep[np.argsort(-weights, kind="stable")[:MOST_RANKED]] = True
        return worlds[keep], weights[keep]

    def _with_pairs(self, worlds: Worlds, weights: Array) -> tuple[Worlds, Array]:
        """The same worlds, and those with two mistakes that do not fall far behind."""
        least = LIVE * float(weights.max(initial=0.0))
        pairing = Pairing(self.known, self.observations, self.agreement, least)
        worlds, weights = self._joined(worlds, weights, pairing.by_parts())
        leading = np.argsort(-weights, kind="stable")[:LEADING]
        singles = (single for world in worlds[leading].tolist() for single in self.vehicle.made_of(world))
        for single in list(dict.fromkeys(singles))[:LEADING]:
            worlds, weights = self._joined(worlds, weights, pairing.beside(single))
        return worlds, weights

    def _joined(self, worlds: Worlds, weights: Array, pairs: Worlds) -> tuple[Worlds, Array]:
        """Worlds with those of some pairs that are not far behind.

        A pair is rarer than all that its first observations leave, so it is only held against what the best
        came to after the last: from there on it cannot catch up.
        """
        pairs = pairs[~np.isin(pairs, worlds)]
        quickest = sorted(range(len(self.observations)), key=self._slowness)
        for start in range(0, len(pairs), TOGETHER):
            some = pairs[start : start + TOGETHER]
            own, least = self.vehicle.weights[some], LIVE * weights.max()
            for number in quickest:
                some, own = some[own > least], own[own > least]
                own = own * self.agreement(number, some)
            some, own = some[own > least], own[own > least]
            if not some.size:
                break  # they come likeliest first
            worlds, weights = np.concatenate((worlds, some)), np.concatenate((weights, own))
        return worlds, weights

    def _slowness(self, number: int) -> int:
        """How long it takes to hold a world against the observation of that number, beside the others."""
        return QUICKEST.index(self.observations[number].kind)

    def _is_explained(self, worlds: Worlds) -> bool:
        """Whether some single mistake explains everything that was seen."""
        fits = self._table(worlds).all(axis=1) & (worlds != NOTHING)
        return bool(fits.any())

    def _may_be_two(self) -> bool:
        """Whether two loads look wrong, each of which some mistake explains that does not explain the other.

        A rare mistake that explains both (two wires traded) would else be found without another look. Only
        looks before the first reading count: those that are asked for later are asked because of one mistake.
        """
        own, singles = np.array([NOTHING]), np.arange(1, self.vehicle.singles)
        told = takewhile(lambda seen: seen.kind == "looks", self.observations)
        wrong = [n for n, _ in enumerate(told) if self.agreement(n, own)[0] < 0.5]
        fits = np.array([self.agreement(n, singles) > DISAGREES for n in wrong], dtype=int)
        apart = fits @ (1 - fits).T if len(wrong) > 1 else np.zeros((1, 1), dtype=int)
        return bool((np.minimum(apart, apart.T) > 0).any())

    @cached_property
    def suspects(self) -> tuple[Suspect, ...]:
        """Who may have done it, likeliest first; worlds of the same mistakes are one suspect."""
        worlds = self.worlds  # first of all, for it may make worlds of two mistakes
        answers, first, own = np.unique(self.vehicle.answers[worlds], return_index=True, return_inverse=True)
        chance = np.bincount(own, weights=self.weights, minlength=len(answers))
        leader = worlds[first]  # worlds are sorted, so the first of each is its likeliest
        order = np.lexsort((leader, -chance))
        missed = [tuple(np.flatnonzero(~row).tolist()) for row in self._table(leader[order])]
        mistakes = [self.vehicle.worlds[world].mistakes for world in leader[order].tolist()]
        return tuple(map(Suspect, mistakes, chance[order].tolist(), leader[order].tolist(), missed))

    def unexplained(self, world: int) -> tuple[int, ...]:
        """The observations that do not go with a world, by number."""
        return tuple(np.flatnonzero(~self._table(np.array([world]))[0]).tolist())

    def contradictions(self) -> list[frozenset[int]]:
        """Least sets of observations that no mistake, nor any two that were tried, explains at once."""
        return conflicts(self._asked().tolist())

    def to_withdraw(self) -> list[frozenset[int]]:
        """Least sets of observations without which something explains all the others."""
        return diagnoses(self._asked().tolist())

    def _table(self, worlds: Worlds) -> NDArray[np.bool_]:
        """Whether each world goes with each observation."""
        found = np.ones((len(worlds), len(self.observations)), dtype=bool)
        for number in range(len(self.observations)):
            found[:, number] = self.agreement(number, worlds) > DISAGREES
        return found

    def _asked(self) -> NDArray[np.bool_]:
        """The same of the worlds asked about all of them; the others had fallen behind before."""
        if not self.observations or not self.worlds.size:  # asks the worlds about all of them
            return np.zeros((0, len(self.observations)), dtype=bool)
        asked = set.intersection(*(set(agreed.asked.tolist()) for agreed in self._agreed))
        return self._table(np.array(sorted(asked), dtype=int))
