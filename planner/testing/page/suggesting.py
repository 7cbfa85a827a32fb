"""What a wrong reading suggests: the likeliest mistakes that make it, each solved with the mistake made.

What a test before it has shown not to be comes last: one who comes to a reading has found the others good.
"""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import replace
from functools import cached_property

from planner.currents.resistances import FULL_SHARE
from planner.messages import tr
from planner.model.meter_page import WrongReading
from planner.testing.mistakes.mistake import Kind, Mistake
from planner.testing.page.answers import LEAST_APART, LEAST_WIDE, Scale, Suspect, answers
from planner.testing.page.bands import Band
from planner.testing.page.cold_lamps import ColdLamps
from planner.testing.page.confirming import Solved, drawn_down, solved
from planner.testing.page.exposure import Exposure
from planner.testing.page.failing import Failed, failing, is_rough
from planner.testing.page.fixings import poor_fixings
from planner.testing.page.ground import Ground
from planner.testing.page.probes import Probe
from planner.testing.page.short_of_pulling import ShortOfPulling
from planner.testing.page.stabilised import Stabilised
from planner.testing.page.turned_diodes import less_if_turned

MOST_LOOKED_AT = 6  # mistakes of one reading that are solved, the likeliest first
_OFF: frozenset[Kind] = frozenset(("end off", "earth missing"))  # a wire that is open, and nothing else


class Suggesting:
    """Says of chosen readings what they suggest where they are not good."""

    def __init__(self, ground: Ground, exposure: Exposure, mistakes: Mapping[str, Mistake]) -> None:
        self.exposer, self.exposure, self.mistakes = ground.exposer, exposure, mistakes
        self.wired, self.short = ground.wired, ShortOfPulling(ground, mistakes)
        self.ground = ground
        self._leaks: dict[Probe, list[tuple[float, str]]] = {}  # what a meter draws down that takes a little
        self.stabilised = Stabilised(ground.wired.loom, ground.catalogue.parts)

    def all(self, bands: Mapping[Probe, Band]) -> dict[Probe, tuple[WrongReading, ...]]:
        """For each probe with a band what readings suggest that are not good, from low to high.

        The bands come in the order in which the readings are taken.
        """
        readings, failed = self._readings(bands), failing(self.ground, self.exposure, bands)
        told, shown = {}, set[str]()
        hardly = ColdLamps(self.exposer, self.exposure, self.mistakes).suspects(bands)
        for probe, band in bands.items():
            likely = readings[probe]
            told[probe] = self._told(probe, band, likely, shown, failed[probe], hardly.get(probe, ()))
            shown |= self.exposure.shown(probe)
        return told

    def _readings(self, bands: Mapping[Probe, Band]) -> dict[Probe, dict[str, Solved]]:
        """What each likely mistake makes of some probes, the likeliest first; live ones solved together."""
        likely: dict[Probe, list[tuple[str, int]]] = {}
        shown: set[str] = set()
        for probe, band in bands.items():
            likely[probe] = self._likeliest(probe, shown)
            if is_rough(self.exposure, probe, band):
                known = dict(likely[probe])
                likely[probe] += [(name, 0) for name in self._all_off if name not in known]
            shown |= self.exposure.shown(probe)
        readings: dict[Probe, dict[str, Solved]] = {
            probe: {}
            if probe.setup is not None
            else {name: Solved(self.exposure.wrong[probe][name, number], False) for name, number in names}
            for probe, names in likely.items()
        }
        asked = [(p, *name) for p, names in likely.items() if p.setup is not None for name in names]
        edits = [(probe, self.exposure.edits[name, number]) for probe, name, number in asked]
        for (probe, name, _), reading in zip(asked, solved(self.exposer, edits), strict=True):
            readings[probe][name] = reading
        low = [
            n
            for n, (probe, name, _) in enumerate(asked)
            if self._may_leak(readings[probe][name], bands[probe])
        ]
        for n, volts in zip(low, drawn_down(self.exposer, [edits[n] for n in low]), strict=True):
            probe, name, _ = asked[n]
            if volts < readings[probe][name].reading - LEAST_APART:
                self._leaks.setdefault(probe, []).append((volts, self.mistakes[name].words))
        return readings

    @staticmethod
    def _may_leak(own: Solved, band: Band) -> bool:
        """Whether volts that are no good ones may be there for want of anything that draws."""
        return not own.is_blown and LEAST_APART < own.reading < band.low

    def _likeliest(self, probe: Probe, shown: AbstractSet[str]) -> list[tuple[str, int]]:
        """The likeliest mistakes that show, each with the last of its changes that does: the largest.

        Those come last that were ``shown`` by readings before, and first a diode that may be the wrong way
        round: few readings show it. However unlikely, an end that may be off and no reading before has shown
        is looked at, and so are the two wires under the tips traded.
        """
        wrong = self.exposure.wrong[probe]
        last, misread = dict(sorted(wrong)), self.exposure.misread
        ordered = sorted(
            last, key=lambda name: (name in shown, name not in misread, -self.mistakes[name].weight, name)
        )
        kept = ordered[:MOST_LOOKED_AT]
        off = {self._wire_off(name) for name in kept} - {""}
        kept += [
            name
            for name in ordered[MOST_LOOKED_AT:]
            if self._must(name, shown)
            or self._wire_off(name) in off
            or self._turns(name, wrong[name, last[name]], probe)
        ]
        tips = self._off_at_tips(probe) if probe.setup is not None else ()
        return [(name, last.get(name, 0)) for name in dict.fromkeys((*kept, *tips))]

    def _off_at_tips(self, probe: Probe) -> Iterator[str]:
        """Yield ends under the tips that may be off: behind curved loads more shows than is reckoned."""
        for tip in (probe.at, probe.to):
            yield from self._off_at.get(tip, ())

    @cached_property
    def _off_at(self) -> Mapping[str, Sequence[str]]:
        """By address the mistakes that are an end off there."""
        found: dict[str, list[str]] = {}
        for name, mistake in self.mistakes.items():
            if mistake.kind in _OFF and (name, 0) in self.exposure.edits:
                found.setdefault(mistake.mend[0], []).append(name)
        return found

    @cached_property
    def _all_off(self) -> Sequence[str]:
        return [name for own in self._off_at.values() for name in own]

    def _wire_off(self, name: str) -> str:
        """The wire of which a mistake says that an end is off; nothing of other mistakes."""
        mistake = self.mistakes[name]
        return mistake.changes[0].ends[0].wire if mistake.kind in _OFF else ""

    def _must(self, name: str, shown: AbstractSet[str]) -> bool:
        """Whether a mistake is told however many are: an end off, a ring misread, none ``shown`` before."""
        return name not in shown and (name in self.exposure.misread or self._wire_off(name) != "")

    def _turns(self, name: str, reading: float, probe: Probe) -> bool:
        """Whether a mistake trades what is under the tips, so that good volts come with a minus."""
        is_minus = probe.setup is not None and self.exposure.good[probe].reading > 0.0 > reading
        return is_minus and {probe.at, probe.to} <= set(self.mistakes[name].mend)

    def _told(
        self,
        probe: Probe,
        band: Band,
        readings: Mapping[str, Solved],
        shown: AbstractSet[str],
        failed: Sequence[Failed],
        hardly: Sequence[Suspect],
    ) -> tuple[WrongReading, ...]:
        here = self.exposure.shown(probe)
        suspects = [
            replace(self._suspect(self.mistakes[name], *own), must=self._must(name, shown))
            for name, own in readings.items()
            if name in here or own.reading < band.low or _is_far(own.reading, band)
        ]
        suspects += [
            Suspect(reading, words, words, probe.at, only_poor=True)
            for reading, words in poor_fixings(self.exposer, self.wired, probe)
        ]
        suspects = [*(Suspect(*own, must=True) for own in self.short.of(probe)), *hardly, *suspects]
        suspects += [Suspect(*own, must=True) for own in self._leaks.get(probe, ())]
        suspects += [Suspect(*own, failed=True) for own in failed]
        volts = self.wired.loom.supply.volts
        if probe.setup is None:
            less, more = _of_ohms()
            less = less_if_turned(self.exposer, self.exposure, self.mistakes, probe, less)
            return answers(band, suspects, Scale("ohm", volts, less, more))
        less, more = _of_volts(band, volts)
        scale = Scale("V", volts, less, self.stabilised.more(probe) or more, _of_minus())
        return self.stabilised.warned(probe, band.high, answers(band, suspects, scale))

    def _suspect(self, mistake: Mistake, reading: float, is_blown: bool) -> Suspect:
        if len(mistake.changes) > 1:  # sizes of a joint
            _, wire, leg = mistake.changes[0].gone[0]
            at, words = self.wired.at(mistake.mend[0]), self.wired.wire(wire, int(leg) + 1)
            poor = tr(
                "{wire} has a poor joint: look first at {at}, badly crimped or still the old terminal",
                wire=words,
                at=at,
            )
            return Suspect(reading, poor, poor, wire, only_poor=True)
        if is_blown:
            short = tr(
                "{mistake} (far too much for its fuse, which has gone, or the lamp in series was bright)",
                mistake=mistake.words,
            )
            return Suspect(reading, short)
        if mistake.kind not in _OFF:
            return Suspect(reading, mistake.words)
        (end,) = mistake.changes[0].ends
        words = self.wired.wire(end.wire, end.end)
        poor = tr("{wire} has a poor joint: look at both its ends", wire=words)
        off = self.wired.at(mistake.mend[0])
        return Suspect(reading, mistake.words, poor, end.wire, way_open=True, off=off, named=words)


def _is_far(volts: float, band: Band) -> bool:
    """Whether volts are no good ones of a battery that is fuller, or flatter, than most."""
    return not band.low - LEAST_APART <= volts <= band.high + LEAST_APART


def _of_ohms() -> tuple[str, str]:
    """What less and more ohms than good mean, whatever the mistake."""
    return (
        tr("another wire hangs on it as well, or something touches"),
        tr("a poor joint, or a way that is open"),
    )


def _of_minus() -> str:
    """What volts with a minus mean, whatever the mistake."""
    return tr("see that red is where the line says; if it is, two wires are changed over")


def _of_volts(band: Band, volts: float) -> tuple[str, str]:
    """What less and more volts than good mean, whatever the mistake."""
    less = tr("a poor joint or an open way before it, or something there draws more than it should")
    if band.high + LEAST_WIDE > FULL_SHARE * volts:
        return less, tr("the battery has just been charged, or what draws there draws too little")
    if band.low <= 0.0:
        return less, tr("a wire on a wrong terminal, two that touch, or a return that is open")
    return less, tr("what draws there draws too little, or its return is poor or open")
