"""Which reading to take next: the one that lessens what is not known most, for the effort it takes."""

from collections.abc import Sequence

import numpy as np

from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.offers import Offers
from planner.testing.hunt.question import Question
from planner.testing.hunt.settling import Setting
from planner.testing.hunt.weighing import best

EFFORT_COUNTS = 0.25  # to this power: a reading that tells twice as much is worth some more minutes
LEAST_BITS = 0.08  # a reading that is expected to tell less is not worth taking
ENOUGH_BITS = 0.6  # if the positions at hand offer this much, no other is looked at
MORE_POSITIONS = 3  # looked at beyond those at hand
MOST_UNKNOWN = 6  # positions that nobody has looked at yet are looked at for one question, for time's sake
LEAST_FRESH = 0.02  # of all weight must show otherwise in a position that is looked at besides


class Asking:
    """Finds the next question of a hunt."""

    def __init__(self, hunt: Hunt, skipped: frozenset[tuple[str, str, str]] = frozenset()) -> None:
        self.hunt, self.known, self.outlook = hunt, hunt.known, hunt.known.outlook
        self.offers = Offers(hunt)
        self.skipped = skipped  # kind, from and to of what the person cannot or will not read

    def next(self) -> Question | None:
        """The question to ask; None if no reading that is thought of tells anything more."""
        if len(set(self.offers.groups.tolist())) < 2:
            return None
        if self.hunt.is_before_power:
            return self._likeliest([*self.offers.sitting(), *self.offers.dead()])
        settings = list(dict.fromkeys(o.settings for o in self.hunt.observations if o.kind != "ohms"))
        settings = settings or [()]
        found = [q for setting in settings for q in self.offers.in_setting(setting)]
        most = max((q.bits for q in found), default=0.0)
        if most < ENOUGH_BITS:
            for setting in self._others(settings, MOST_UNKNOWN if most >= LEAST_BITS else None):
                found += self.offers.in_setting(setting)
        found += self.offers.sitting()
        if max((q.bits for q in found), default=0.0) < ENOUGH_BITS:
            found += self.offers.dead()
        return self._likeliest(found)

    def _likeliest(self, found: Sequence[Question]) -> Question | None:
        """The question that tells most for its effort; None if none tells enough."""
        worth = [q for q in found if q.bits >= LEAST_BITS and (q.kind, q.at, q.to) not in self.skipped]
        return worth[best([q.bits / q.minutes**EFFORT_COUNTS for q in worth])] if worth else None

    def _others(self, at_hand: Sequence[Setting], most_unknown: int | None) -> list[Setting]:
        """The few other settings in which most of what is suspected shows otherwise than in those at hand.

        So many are looked at that nobody has looked at before; None: all of them.
        """
        worlds, weights = self.offers.worlds, self.offers.weights
        before = [self.outlook.position(setting).shows[worlds] for setting in at_hand]
        new: list[tuple[float, Setting]] = []
        unknown = 0
        for setting in self.known.standing.settings:
            is_known = self.outlook.is_solved(setting)
            unknown += not is_known
            is_looked_at = is_known or most_unknown is None or unknown <= most_unknown
            if setting not in at_hand and is_looked_at:
                shows = self.outlook.position(setting).shows[worlds]
                fresh = np.logical_and.reduce([shows != other for other in before])
                new.append((-float(weights[fresh].sum()), setting))
        return [setting for weight, setting in sorted(new)[:MORE_POSITIONS] if weight < -LEAST_FRESH]
