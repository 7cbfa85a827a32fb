"""Which two mistakes at once are worth trying: those that between them may explain all that was seen."""

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from itertools import takewhile

import numpy as np
from numpy.typing import NDArray

from planner.currents.curves import Array
from planner.model.observations import UNSET, Observation
from planner.testing.hunt.agreeing import load_key
from planner.testing.hunt.known import Known
from planner.testing.hunt.per_world import Worlds
from planner.testing.hunt.solving import Setting
from planner.testing.hunt.tolerance import DISAGREES
from planner.testing.hunt.vehicle import NOTHING

MOST_PAIRS = 300  # that are tried by what either of them explains, those first that explain most between them
PAIRED = 60  # single mistakes that are paired, for each observation the likeliest that explain it
MOST_BESIDE = 150  # single mistakes that are tried beside one that explains much, the likeliest
ALTERS = 0.05  # volts, or a share of a load's power: what changes less is not what was seen
Agreement = Callable[[int, Worlds], Array]  # of the observation of that number, in some worlds


class Pairing:
    """Chooses pairs for one hunt as it stands, of those that weigh more beforehand than what falls behind.

    Where one of the two explains everything by itself, the other would be made up.
    """

    def __init__(
        self, known: Known, observations: Sequence[Observation], agreement: Agreement, least: float
    ) -> None:
        self.known, self.vehicle = known, known.vehicle
        self.observations, self.agreement, self.least = observations, agreement, least
        prior = self.vehicle.weights[1 : self.vehicle.singles]
        self._singles = np.flatnonzero(prior * prior.max(initial=0.0) > least) + 1
        self._prior = self.vehicle.weights[self._singles]

    def by_parts(self) -> Worlds:
        """Pairs by what each of the two explains alone."""
        chosen: dict[int, None] = {}
        for number in filter(self._is_wrong, self._known_of_all()):
            likely = np.argsort(-(self._prior * self.agreement(number, self._singles)), kind="stable")[
                :PAIRED
            ]
            chosen |= dict.fromkeys(likely.tolist())
        some = np.array([n for n in chosen if not self._is_whole[n]], dtype=int)
        one, other = np.triu_indices(len(some), 1)
        score = self._prior[some[one]] * self._prior[some[other]]
        one, other, score = (own[score > self.least] for own in (one, other, score))
        # Where one of two alone explains what is not sound, both together mostly do.
        for number in range(len(self.observations)):
            row = self.agreement(number, self._singles[some])
            score = score * (np.maximum if self._is_wrong(number) else np.minimum)(row[one], row[other])
        likely = np.argsort(-score, kind="stable")[:MOST_PAIRS]
        return self._paired(self._singles[some[one[likely]]], self._singles[some[other[likely]]])

    def beside(self, single: int) -> Worlds:
        """Pairs of one mistake with what may change what it does not explain.

        What neither explains alone, both together may: a contact that stays closed shows once its feed
        is live. First come those that change something there in some setting that was looked at.
        """
        own = np.array([single])
        fits = [self.agreement(n, own)[0] > DISAGREES for n in range(len(self.observations))]
        missed = [seen for seen, is_met in zip(self.observations, fits, strict=True) if not is_met]
        if single == NOTHING or not missed:
            return np.zeros(0, dtype=int)
        may = np.logical_or.reduce([self._may_change(seen, single) for seen in missed])
        may &= ~self._is_whole & (self._prior * self.vehicle.weights[single] > self.least)
        others, prior = self._singles[may], self._prior[may]
        if len(others) > MOST_BESIDE:
            alters = np.logical_or.reduce([self._alters(seen, others) for seen in missed])
            others = others[np.lexsort((-prior, ~alters))[:MOST_BESIDE]]
        return self._paired(np.full(len(others), single), others)

    def _is_wrong(self, number: int) -> bool:
        """Whether the sound vehicle does not explain an observation."""
        return bool(self.agreement(number, np.array([NOTHING]))[0] < 0.5)

    @cached_property
    def _began(self) -> Sequence[Setting]:
        """The settings in which something was seen before the first reading: every mistake is known there."""
        told = list(takewhile(lambda seen: seen.kind == "looks", self.observations)) or self.observations[:1]
        return list(dict.fromkeys(seen.settings for seen in told))

    def _known_of_all(self) -> Iterator[int]:
        """Yield what is quickly held against every mistake; ``beside`` thinks of the others."""
        for number, seen in enumerate(self.observations):
            if seen.kind in UNSET or (seen.kind in ("looks", "volts") and seen.settings in self._began):
                yield number

    @cached_property
    def _is_whole(self) -> NDArray[np.bool_]:
        """Which of the single mistakes explain everything."""
        found = np.ones(len(self._singles), dtype=bool)
        for number in range(len(self.observations)):
            found[found] = self.agreement(number, self._singles[found]) > DISAGREES
        return found

    def _may_change(self, seen: Observation, single: int) -> NDArray[np.bool_]:
        """Which other mistakes may change what was seen beside one."""
        if seen.kind in UNSET:
            return np.ones(len(self._singles), dtype=bool)
        return self.known.outlook.position(seen.settings).touches(single, self._singles)

    def _alters(self, seen: Observation, singles: Worlds) -> NDArray[np.bool_]:
        """Which mistakes alone change something where it was seen, in some setting that it began with."""
        found = np.zeros(len(singles), dtype=bool)
        for setting in self._began:
            at = self._there(seen, setting, np.concatenate(([NOTHING], singles)))
            if at is not None:
                found |= np.abs(at[1:] - at[0]) > ALTERS
        return found

    def _there(self, seen: Observation, setting: Setting, worlds: Worlds) -> Array | None:
        """The volts, or the share of power, where something was seen, in some worlds."""
        position = self.known.outlook.position(setting)
        if seen.kind == "looks":
            return position.power(worlds, np.array([self.known.outlook.loads.column[load_key(seen.at)]]))[
                :, 0
            ]
        node = self.vehicle.nodes.get(seen.at)
        return None if node is None else position.volts(worlds, np.array([node]))[:, 0]

    def _paired(self, ones: Worlds, others: Worlds) -> Worlds:
        made = (self.vehicle.pair(*both) for both in zip(ones.tolist(), others.tolist(), strict=True))
        return np.array([world for world in made if world is not None], dtype=int)
