"""One hunt: what was seen so far, how likely each mistake is by that, and when it is over."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.currents.curves import Array
from planner.model.observations import Observation
from planner.testing.hunt.agreeing import agrees
from planner.testing.hunt.conflicts import conflicts, diagnoses
from planner.testing.hunt.outlook import Outlook, Worlds
from planner.testing.hunt.standing import Standing, standing
from planner.testing.hunt.tolerance import WRONG
from planner.testing.hunt.vehicle import NOTHING, Vehicle

LIVE = 1e-3  # of the likeliest: a world with less is left out of what costs time, until it may matter again
DISAGREES = 0.05  # from here down an observation is one that a world does not explain
MOST_PAIRS = 300  # worlds with two mistakes that are tried, those first that explain most between them
PAIRED = (
    60  # single worlds that are paired with one another, for each observation the likeliest that explain it
)


@dataclass(frozen=True, slots=True)
class Suspect:
    """What may be wrong: one mistake or two, its probability, and its likeliest world."""

    mistakes: tuple[int, ...]
    chance: float
    world: int
    unexplained: tuple[int, ...]  # the observations that do not go with it, by number


class Known:
    """What is known of one vehicle whatever was seen: shared by all its hunts."""

    def __init__(self, vehicle: Vehicle) -> None:
        self.vehicle, self.outlook = vehicle, Outlook(vehicle)
        self._agreed: dict[Observation, dict[int, float]] = {}

    @cached_property
    def standing(self) -> Standing:
        """The settings in which the loads work."""
        return standing(self.vehicle)

    def agreement(self, observation: Observation, worlds: Worlds) -> Array:
        """How well worlds agree with an observation."""
        known = self._agreed.setdefault(observation, {})
        missing = [world for world in worlds.tolist() if world not in known]
        if missing:
            found = agrees(observation, self.outlook, np.array(missing))
            known |= dict(zip(missing, found.tolist(), strict=True))
        return np.array([known[world] for world in worlds.tolist()])

    def asked_of_all(self, observations: Sequence[Observation]) -> list[int]:
        """The worlds of which it is known how well they agree with each of some observations."""
        known = [self._agreed.get(observation, {}).keys() for observation in observations]
        return sorted(set.intersection(*map(set, known))) if known else []


class Hunt:
    """The observations of one hunt and what follows from them."""

    def __init__(self, known: Known) -> None:
        self.known, self.vehicle = known, known.vehicle
        self.observations: list[Observation] = []
        self._forget()

    def add(self, observation: Observation) -> None:
        """Take in what was seen."""
        self.observations.append(observation)
        self._forget()

    def withdraw(self, number: int) -> Observation:
        """Take back the observation of that number, counted from 0."""
        taken = self.observations.pop(number)
        self._forget()
        return taken

    def _forget(self) -> None:
        for name in ("_weighed", "suspects"):
            self.__dict__.pop(name, None)

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
        if self.observations and not self._is_explained(worlds):
            pairs = self._pairs()
            if pairs.size:
                worlds, weights = self._live(np.concatenate((worlds, pairs)))
        order = np.argsort(-weights, kind="stable")
        return worlds[order], weights[order] / weights.sum()

    def _live(self, worlds: Worlds) -> tuple[Worlds, Array]:
        """Worlds and weights after all observations; those that fall far behind on the way are left out."""
        weights = np.array([self.vehicle.worlds[world].weight for world in worlds.tolist()])
        for observation in self.observations:
            weights = weights * self.known.agreement(observation, worlds)
            keep = weights > LIVE * WRONG * weights.max()
            worlds, weights = worlds[keep], weights[keep]
        keep = weights > LIVE * weights.max()
        return worlds[keep], weights[keep]

    def _is_explained(self, worlds: Worlds) -> bool:
        """Whether some single mistake explains everything that was seen."""
        fits = np.ones(len(worlds), dtype=bool)
        for observation in self.observations:
            fits &= self.known.agreement(observation, worlds) > DISAGREES
        fits &= worlds != NOTHING
        return bool(fits.any())

    def _pairs(self) -> Worlds:
        """Worlds with two mistakes, between them explaining as much as can be."""
        singles = np.arange(1, self.vehicle.singles)
        prior = np.array([self.vehicle.worlds[world].weight for world in singles.tolist()])
        agreed = np.array([self.known.agreement(o, singles) for o in self.observations])
        sound = np.array([self.known.agreement(o, np.array([NOTHING]))[0] for o in self.observations])
        chosen: dict[int, None] = {}
        for row, by_itself in zip(agreed, sound, strict=True):
            if by_itself < 0.5:
                likely = np.argsort(-(prior * row), kind="stable")[:PAIRED]
                chosen |= dict.fromkeys(likely.tolist())
        some = list(chosen)
        scored: list[tuple[float, int, int]] = []
        for n, one in enumerate(some):
            for other in some[n + 1 :]:
                # Where one of two alone explains what is not sound, both together mostly do.
                together = np.where(
                    sound < 0.5,
                    np.maximum(agreed[:, one], agreed[:, other]),
                    np.minimum(agreed[:, one], agreed[:, other]),
                )
                scored.append((-float(prior[one] * prior[other] * together.prod()), one, other))
        found = []
        for _, one, other in sorted(scored)[:MOST_PAIRS]:
            world = self.vehicle.pair(int(singles[one]), int(singles[other]))
            if world is not None:
                found.append(world)
        return np.array(found, dtype=int)

    @cached_property
    def suspects(self) -> tuple[Suspect, ...]:
        """Who may have done it, likeliest first; worlds of the same mistakes are one suspect."""
        chance: dict[tuple[int, ...], float] = {}
        leader: dict[tuple[int, ...], int] = {}
        for world, weight in zip(self.worlds.tolist(), self.weights.tolist(), strict=True):
            mistakes = self.vehicle.worlds[world].mistakes
            chance[mistakes] = chance.get(mistakes, 0.0) + weight
            leader.setdefault(mistakes, world)
        order = sorted(chance, key=lambda mistakes: (-chance[mistakes], leader[mistakes]))
        return tuple(Suspect(m, chance[m], leader[m], self.unexplained(leader[m])) for m in order)

    def unexplained(self, world: int) -> tuple[int, ...]:
        """The observations that do not go with a world, by number."""
        own = np.array([world])
        return tuple(
            number
            for number, observation in enumerate(self.observations)
            if self.known.agreement(observation, own)[0] <= DISAGREES
        )

    def contradictions(self) -> list[frozenset[int]]:
        """Least sets of observations that no mistake, nor any two that were tried, explains at once."""
        return conflicts(self._table())

    def to_withdraw(self) -> list[frozenset[int]]:
        """Least sets of observations without which something explains all the others."""
        return diagnoses(self._table())

    def _table(self) -> list[list[bool]]:
        """Whether each world goes with each observation.

        Only worlds that were asked about all of them count; the others had fallen behind before.
        """
        if not self.observations or not self.worlds.size:  # asks the worlds about all of them
            return []
        worlds = np.array(self.known.asked_of_all(self.observations))
        table = [self.known.agreement(o, worlds) > DISAGREES for o in self.observations]
        found: list[list[bool]] = np.array(table).T.tolist()
        return found
