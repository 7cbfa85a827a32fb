"""Which two mistakes at once are worth trying: those that between them may explain all that was seen."""

from collections.abc import Callable, Sequence

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
    """Chooses pairs for one hunt as it stands.

    Where one of the two explains everything by itself, the other would be made up.
    """

    def __init__(self, known: Known, observations: Sequence[Observation], agreement: Agreement) -> None:
        self.known, self.vehicle = known, known.vehicle
        self.observations = observations
        self._singles = np.arange(1, self.vehicle.singles)
        self._agreed = np.array([agreement(n, self._singles) for n in range(len(observations))])
        self._sound = np.array([agreement(n, np.array([NOTHING]))[0] for n in range(len(observations))])
        self._is_whole = np.logical_and.reduce(self._agreed > DISAGREES, axis=0)

    def by_parts(self) -> Worlds:
        """Pairs by what each of the two explains alone."""
        prior = self.vehicle.weights[self._singles]
        chosen: dict[int, None] = {}
        for row, by_itself in zip(self._agreed, self._sound, strict=True):
            if by_itself < 0.5:
                likely = np.argsort(-(prior * row), kind="stable")[:PAIRED]
                chosen |= dict.fromkeys(likely.tolist())
        some = np.array([n for n in chosen if not self._is_whole[n]], dtype=int)
        one, other = np.triu_indices(len(some), 1)
        # Where one of two alone explains what is not sound, both together mostly do.
        score = prior[some[one]] * prior[some[other]]
        for row, by_itself in zip(self._agreed[:, some], self._sound, strict=True):
            score = score * (np.maximum if by_itself < 0.5 else np.minimum)(row[one], row[other])
        likely = np.argsort(-score, kind="stable")[:MOST_PAIRS]
        return self._paired(self._singles[some[one[likely]]], self._singles[some[other[likely]]])

    def beside(self, single: int) -> Worlds:
        """Pairs of one mistake with what may change what it does not explain.

        What neither explains alone, both together may: a contact that stays closed shows once its feed
        is live. First come those that change something there in some setting that was looked at.
        """
        if single == NOTHING or self._is_whole[single - 1]:
            return np.zeros(0, dtype=int)
        fits = self._agreed[:, single - 1] > DISAGREES
        missed = [seen for seen, is_met in zip(self.observations, fits, strict=True) if not is_met]
        may = np.logical_or.reduce([self._may_change(seen, single) for seen in missed])
        alters = np.logical_or.reduce([self._alters(seen) for seen in missed])
        others = np.flatnonzero(may & ~self._is_whole)
        prior = self.vehicle.weights[self._singles[others]]
        likely = self._singles[others[np.lexsort((-prior, ~alters[others]))[:MOST_BESIDE]]]
        return self._paired(np.full(len(likely), single), likely)

    def _may_change(self, seen: Observation, single: int) -> NDArray[np.bool_]:
        """Which other mistakes may change what was seen beside one."""
        if seen.kind in UNSET:
            return np.ones(len(self._singles), dtype=bool)
        return self.known.outlook.position(seen.settings).touches(single, self._singles)

    def _alters(self, seen: Observation) -> NDArray[np.bool_]:
        """Which mistakes alone change something where it was seen, in some setting that was looked at."""
        found = np.zeros(len(self._singles), dtype=bool)
        settings = dict.fromkeys(other.settings for other in self.observations if other.kind not in UNSET)
        for setting in settings:
            at = self._there(seen, setting)
            if at is not None:
                found |= np.abs(at[self._singles] - at[NOTHING]) > ALTERS
        return found

    def _there(self, seen: Observation, setting: Setting) -> Array | None:
        """The volts, or the share of power, where something was seen; a number for each world."""
        every, position = np.arange(self.vehicle.singles), self.known.outlook.position(setting)
        if seen.kind == "looks":
            return position.power(every, np.array([self.known.outlook.loads.column[load_key(seen.at)]]))[:, 0]
        node = self.vehicle.nodes.get(seen.at)
        return None if node is None else position.volts(every, np.array([node]))[:, 0]

    def _paired(self, ones: Worlds, others: Worlds) -> Worlds:
        made = (self.vehicle.pair(*both) for both in zip(ones.tolist(), others.tolist(), strict=True))
        return np.array([world for world in made if world is not None], dtype=int)
