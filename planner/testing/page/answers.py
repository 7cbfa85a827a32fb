"""What readings that are not good suggest: the scale beside the good band, parted into lines.

A wire that is off makes one reading; a poor joint in it every one between that and a good one. So poor joints
fill the scale from the good band to the farthest reading of such a wire, around what other mistakes make; and
where a few ohms are read of a wire they are named before any of these.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import inf, isinf

from planner.messages import tr
from planner.model.meter_limits import near
from planner.model.meter_page import WrongReading
from planner.testing.page.bands import Band
from planner.testing.page.scale import spread

MOST_READINGS, MOST_MISTAKES = 3, 3  # readings told on one side of what is good, and mistakes of each
LEAST_APART, APART_SHARE = 0.5, 0.05  # V or ohm, and in all: readings nearer than this are told together
LITTLE_OHMS, MOST_POOR = 5.0, 2  # what a poor joint has, more often than not; how many are told before others
LEAST_WIDE = 0.3  # V or ohm: what is narrower is no line of its own
SURE_SHARE = 0.8  # of the vehicle's volts: what reads so much is all there is
LEAST_VOLTS = -0.4  # a meter that reads nothing; less is a minus


@dataclass(frozen=True, slots=True)
class Suspect:
    """A mistake with what a meter reads; ``poor`` says the poor joint in ``wire`` that reads all up to there.

    One that is ``only_poor`` has no reading of its own. Where one is a ``way_open``, what reads still more is
    open at another place as well. An end that is off is ``off`` an address, and the wire is ``named``: where
    the other end makes the same reading, both are told in one. What ``must`` be told is, however many are;
    so is what has ``failed`` by itself, after all that a hand got wrong.
    """

    reading: float
    words: str
    poor: str = ""
    wire: str = ""
    only_poor: bool = False
    way_open: bool = False
    off: str = ""
    named: str = ""
    must: bool = False
    failed: bool = False


@dataclass(frozen=True, slots=True)
class Scale:
    """What is measured: the unit, the vehicle's volts, and what less, more and a minus mean in general."""

    unit: str
    volts: float
    less: str
    more: str
    minus: str = ""


@dataclass(slots=True)
class _Group:
    """Mistakes that read alike; ``low`` and ``high`` count outwards, away from the good band."""

    reading: float
    low: float
    high: float
    by_wire: dict[str, list[Suspect]] = field(default_factory=dict)  # what concerns one wire stands together
    failed: list[str] = field(default_factory=list)
    way_open: bool = False

    def add(self, suspect: Suspect) -> None:
        """Add a mistake that reads like this."""
        if suspect.failed:
            self.failed.append(suspect.words)
        else:
            self.by_wire.setdefault(suspect.wire or suspect.words, []).append(suspect)
        self.way_open = self.way_open or suspect.way_open

    @property
    def words(self) -> list[str]:
        """One mistake of each wire, the likeliest first, then others of these, then what has failed."""
        ordered = sorted(self.by_wire.values(), key=lambda own: not any(suspect.must for suspect in own))
        said = [list(dict.fromkeys(_said(own))) for own in ordered]
        most = max(MOST_MISTAKES, sum(any(s.must for s in own) for own in ordered))
        wrong = [*(words[0] for words in said), *(word for words in said for word in words[1:])]
        return [*dict.fromkeys(wrong)][:most] + self.failed


def _said(suspects: Sequence[Suspect]) -> Iterator[str]:
    """Yield the words of mistakes of one wire: that it is off one end or the other is one of them."""
    off = list(dict.fromkeys(suspect.off for suspect in suspects if suspect.off))
    for suspect in suspects:
        if suspect.off and len(off) > 1:
            yield tr("{wire} is off {at}", wire=suspect.named, at=tr(" or off ").join(off))
        else:
            yield suspect.words


def answers(band: Band, suspects: Sequence[Suspect], scale: Scale) -> tuple[WrongReading, ...]:
    """The lines in ascending order; ``suspects`` come with the likeliest first."""
    less = _Side(scale, -1.0).lines(band.low, [s for s in suspects if s.reading < band.low])
    more = _Side(scale, 1.0).lines(band.high, [s for s in suspects if s.reading > band.high])
    return (*reversed(list(less)), *more)


class _Side:
    """One side of the good band; everything counts outwards from it, so less than good is mirrored."""

    def __init__(self, scale: Scale, sign: float) -> None:
        self.scale, self.sign = scale, sign
        least = 0.0 if scale.unit == "ohm" else LEAST_VOLTS
        self.end = inf if sign > 0 else -least
        self.rest = scale.more if sign > 0 else scale.less

    def lines(self, edge: float, suspects: Sequence[Suspect]) -> Iterator[WrongReading]:
        """Yield the lines from the good band outwards."""
        at = self.sign * edge
        for group in self._groups(suspects):
            low = max(group.low, at)
            low = at if low - at < LEAST_WIDE else low
            yield from self._between(suspects, at, low)
            if group.high > low:
                is_little = self._is_little(low) and not group.way_open
                poor = self._poor_words(suspects, low)[:MOST_POOR] if is_little else []
                yield self._line(low, group.high, [*poor, *group.words])
                at = group.high
        if at < (inf if self.sign > 0 else 0.0):  # what is left below zero has a line of its own
            yield from self._between(suspects, at, self.end)

    def _groups(self, suspects: Sequence[Suspect]) -> list[_Group]:
        """The likeliest readings, outwards, each with its share of the scale."""
        found: list[_Group] = []
        for suspect in suspects:
            if suspect.only_poor:
                continue
            reading, apart = suspect.reading, max(LEAST_APART, APART_SHARE * abs(suspect.reading))
            own = next((g for g in found if g.reading == reading or abs(g.reading - reading) < apart), None)
            if own is None:
                low, high = sorted(self.sign * end for end in spread(reading, self.scale.unit))
                own = _Group(reading, low, high)
                found.append(own)
            own.add(suspect)
        # Where good is plus, what is left below zero has a line of its own.
        minus = [group for group in found if self._is_minus(group.reading)]
        told = [group for group in found if group not in minus][:MOST_READINGS] + minus[:MOST_READINGS]
        told.sort(key=lambda group: self.sign * group.reading)
        for one, other in pairwise(told):
            if one.high > other.low:
                middle = self.sign * (one.reading + other.reading) / 2
                one.high = other.low = other.low if isinf(middle) else middle
        for group in told:
            group.low, group.high = near(group.low), near(group.high)
        if told and self._is_all(told[-1]):
            told[-1].high = inf
        return told

    def _is_minus(self, reading: float) -> bool:
        return self.scale.unit == "V" and self.sign < 0 and reading < LEAST_VOLTS

    def _is_all(self, group: _Group) -> bool:
        """Whether what reads still more, or less, can be nothing else."""
        if self.scale.unit == "ohm":
            return self.sign > 0 and group.way_open
        return group.high >= SURE_SHARE * self.scale.volts

    def _between(self, suspects: Sequence[Suspect], start: float, end: float) -> Iterator[WrongReading]:
        """Yield the poor joints that read from a start outwards, and what is left up to an end."""
        own = self._poor(suspects, start)
        if own and end > start:
            far = near(max(self.sign * s.reading for s in own))
            far = end if far > end - LEAST_WIDE else far
            yield self._line(start, far, self._poor_words(suspects, start)[:MOST_MISTAKES])
            start = far
        if end > start:
            is_minus = self.sign < 0 and start >= 0.0
            yield self._line(start, end, [self.scale.minus if is_minus else self.rest])

    def _poor(self, suspects: Sequence[Suspect], start: float) -> list[Suspect]:
        """Those that read more than some start by a poor joint."""
        return [s for s in suspects if s.poor and self.sign * s.reading >= start + LEAST_WIDE]

    def _poor_words(self, suspects: Sequence[Suspect], start: float) -> list[str]:
        """What is said of them, first of those whose joint was made by the work."""
        own = sorted(self._poor(suspects, start), key=lambda suspect: not suspect.only_poor)
        worked_on = {s.wire for s in own if s.only_poor}
        return list(dict.fromkeys(s.poor for s in own if s.only_poor or s.wire not in worked_on))

    def _is_little(self, low: float) -> bool:
        """Whether a reading is but little more than good: first of all that is a poor joint."""
        return self.scale.unit == "ohm" and self.sign > 0 and low < LITTLE_OHMS

    def _line(self, start: float, end: float, words: Sequence[str]) -> WrongReading:
        low, high = sorted((self.sign * start + 0.0, self.sign * end + 0.0))
        return WrongReading(low, high, tr("; or ").join(dict.fromkeys(words)))
