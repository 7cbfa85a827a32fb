"""Chosen readings as the records that sheets show: with their bands, their words, and their steps."""

from collections.abc import Iterator, Mapping, Sequence

from planner.currents.grid import BODY
from planner.messages import tr
from planner.model.meter_page import LampSays, MeterTest
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.bands import Band, bands, swinging
from planner.testing.page.beating import Beating
from planner.testing.page.choosing import place
from planner.testing.page.cranking import Cranking
from planner.testing.page.exposure import Exposure
from planner.testing.page.ground import Ground
from planner.testing.page.hanging import hanging
from planner.testing.page.no_lamp import Delicate, harms_dead, harms_live
from planner.testing.page.not_beating import not_beating
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup
from planner.testing.page.steps import StepsOf
from planner.testing.page.suggesting import Suggesting
from planner.testing.page.wording import Wording


class Records:
    """Puts chosen readings into records."""

    def __init__(
        self,
        ground: Ground,
        exposure: Exposure,
        mistakes: Mapping[str, Mistake],
        steps: StepsOf,
        ordered: Sequence[Probe],
        shorts: Sequence[Mistake] = (),
    ) -> None:
        self.ground, self.exposure, self.mistakes, self.steps, self.ordered = (
            ground, exposure, mistakes, steps, ordered,
        )  # fmt: skip
        self.shorts = shorts  # what no reading of ohms shows
        self.wording = Wording(ground.wired, ground.stands.view.net, ground.catalogue.parts)
        loom = ground.wired.loom
        delicate = Delicate(loom, ground.catalogue.parts)
        steady = bands(ground.exposer, exposure, ordered, loom.supply.volts, delicate)
        self.cranking = Cranking(ground)
        self.bands = swinging(steady, Beating(ground.exposer, loom), loom.supply.volts)
        self.hangs_on = hanging(ground.exposer, exposure, ground.stands, self.wording.unset, ordered)
        self._beats: dict[str, int] = {}  # what was said of a flasher that does not beat, and where first
        self.wrong = Suggesting(ground, exposure, mistakes).all(self.bands)

    def all(self) -> Iterator[MeterTest]:
        """Yield them in their order."""
        before: Setup | None = None
        for number, probe in enumerate(self.ordered, 1):
            yield self._test(number, probe, before, self.bands[probe])
            before = probe.setup or before

    def _lamp(self, probe: Probe, band: Band) -> LampSays:
        """What a test lamp says, where one may go."""
        tips = [tip for tip in (probe.at, probe.to) if tip != BODY]
        harms = harms_dead if probe.setup is None else harms_live
        return "none" if harms(self.ground.wired.loom, self.ground.catalogue.parts, tips) else band.lamp

    def _set_words(self, before: Setup | None, setup: Setup | None) -> str:
        """What must be changed, and what one minds where that cranks the engine."""
        words = self.wording.set_words(before, setup) if setup else ""
        minds = self.cranking.words(setup) if setup and words else ""
        return f"{words} ({minds})" if minds else words

    def _steady(self, number: int, probe: Probe) -> str:
        """What it tells that a reading does not swing; the second time it is not said at length."""
        words = not_beating(self.ground, probe)
        first = self._beats.setdefault(words, number)
        if first == number:
            return words
        return tr("the flasher does not beat: as for test {n}", n=first)

    def _why(self, probe: Probe, band: Band) -> str:
        """What a test is for, and what it cannot tell; of a lamp behind a flasher, that it flashes."""
        why = self.wording.why(probe, band.expected)
        for short in self.shorts if probe.setup is None else ():
            if {probe.at, probe.to} & set(short.mend):
                why = tr(
                    "{why}; ohms do not tell whether {mistake}: look below", why=why, mistake=short.words
                )
        if probe.about is not None and band.dark is not None:
            return tr("{why}, and flashes: look at it as well", why=why)
        return why

    def _test(self, number: int, probe: Probe, before: Setup | None, band: Band) -> MeterTest:
        setup = probe.setup
        return MeterTest(
            n=number,
            id=probe.id,
            stage="live" if setup else "dead",
            circuit=self.ground.wired.title_of(place(probe)),
            settings=setup.name if setup else (),
            set_words=self._set_words(before, setup),
            quantity=probe.quantity,
            at=probe.at,
            to=probe.to,
            where_words=self.wording.where(
                probe, band.expected, self.hangs_on[probe], self.exposure.good[probe].plus
            ),
            expected=band.expected,
            low=band.low,
            high=band.high,
            unit="V" if setup else "ohm",
            lamp=self._lamp(probe, band),
            dark=band.dark,
            steady=self._steady(number, probe) if band.dark is not None else "",
            wrong=self.wrong[probe],
            steps=self.steps.of([self.mistakes[name] for name in self.exposure.shown(probe)]),
            why=self._why(probe, band),
            all_set_words=self._set_words(None, setup),
            at_levels=tuple((self.wording.level(*level), low, high) for level, low, high in band.at_levels),
        )
