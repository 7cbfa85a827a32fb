"""Which reading to take next: the one that lessens what is not known most, for the effort it takes."""

from collections.abc import Iterator, Sequence

from planner.model.observations import UNSET
from planner.testing.hunt.by_hand import ByHand
from planner.testing.hunt.effort import LEAST_MINUTES, Effort
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.offers import LEAST_BITS, Offer, Offers
from planner.testing.hunt.question import Question
from planner.testing.hunt.solving import Setting

EFFORT_COUNTS = 0.25  # to this power: a reading that tells twice as much is worth some more minutes
ENOUGH_BITS = 1.6  # if what is at hand offers this much, nothing else is looked at
MOST_SETTINGS = (
    6  # others than those at hand are looked at for one question: more find next to nothing better
)
MOST_UNKNOWN = 2  # of them that nobody has looked at yet, for time's sake


class Asking:
    """Finds the next question of a hunt."""

    def __init__(self, hunt: Hunt, skipped: frozenset[tuple[str, str, str]] = frozenset()) -> None:
        self.hunt, self.known, self.outlook = hunt, hunt.known, hunt.known.outlook
        self.offers = Offers(hunt)
        self.effort = Effort(hunt.known, hunt.observations[-1] if hunt.observations else None)
        self.skipped = skipped  # kind, from and to of what the person cannot or will not read

    def next(self) -> Question | None:
        """The question to ask; None if no reading that is thought of tells anything more."""
        if len(set(self.offers.groups.tolist())) < 2:
            return None
        if self.hunt.is_before_power:
            return self._likeliest([*self.offers.sitting(), *self.offers.dead()])
        settings = list(dict.fromkeys(o.settings for o in self.hunt.observations if o.kind not in UNSET))
        found = list(self.offers.in_settings(settings or [()]))
        if _most(found) < ENOUGH_BITS:
            found += self.offers.sitting()
        if _most(found) < ENOUGH_BITS:
            found += self._elsewhere(settings, found)
        if _most(found) < ENOUGH_BITS:
            found += self.offers.dead()
        found += self._by_hand(settings or [()], found)
        return self._likeliest(found)

    def _elsewhere(self, at_hand: Sequence[Setting], found: Sequence[Offer]) -> list[Offer]:
        """What the other settings offer: those first that may tell most, and none that cannot win.

        Of those that nobody has looked at yet only a few are looked at, but all if nothing tells anything.
        """
        others = [setting for setting in self.known.standing.settings if setting not in at_hand]
        self.outlook.sound.follow(others)
        bounds = {setting: self.offers.at_most(setting) for setting in others}
        others.sort(key=lambda setting: (not self.outlook.is_solved(setting), -bounds[setting]))
        more: list[Offer] = []
        most, looked_at, unknown = _most(found), 0, 0
        for setting in others:
            is_enough = most >= ENOUGH_BITS or looked_at == MOST_SETTINGS or unknown == MOST_UNKNOWN
            if most and is_enough:
                break
            if bounds[setting] > max(most, LEAST_BITS):
                looked_at += 1
                unknown += not self.outlook.is_solved(setting)
                offers = list(self.offers.in_settings([setting]))
                most = max(most, _most(offers))
                more += offers
        return more

    def _by_hand(self, settings: Sequence[Setting], found: Sequence[Offer]) -> Iterator[Offer]:
        """Yield what takes less than a meter, in the settings at hand."""
        by_hand = ByHand(self.offers)
        for setting in settings:
            yield from by_hand.fuses(setting)
            yield from by_hand.warm(setting)
        yield from by_hand.lamp(found)

    def _likeliest(self, found: Sequence[Offer]) -> Question | None:
        """The offer that tells most for its effort; None if there is none."""
        best, most = None, 0.0
        for bits, kind, at, to, setting, is_out in sorted(found, key=lambda offer: -offer.bits):
            if bits / LEAST_MINUTES**EFFORT_COUNTS <= most:
                break  # none that follows is better, however quick it is
            minutes = self.effort.of(kind, at, to, setting)
            if bits / minutes**EFFORT_COUNTS > most + 1e-9 and (kind, at, to) not in self.skipped:
                best = Question(kind, at, to, setting, bits, minutes, is_out)
                most = bits / minutes**EFFORT_COUNTS
        return best


def _most(offers: Sequence[Offer]) -> float:
    """The bits of the offer that tells most."""
    return max((offer.bits for offer in offers), default=0.0)
