"""What a meter page shows to be not good is hunted for in the same sitting, with all that was read."""

from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from planner.commands.work.prompt import say
from planner.commands.work.tracing import Mended, Tracing
from planner.model.catalogue import Catalogue
from planner.model.meter_log import MeterLog
from planner.model.observations import Observation
from planner.reading.seen_file import read_seen
from planner.reading.seen_line import line_of
from planner.reading.seen_words import SeenWords
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import Vehicle
from planner.testing.page.handing_over import observations
from planner.testing.wired import Wired


@dataclass
class HuntingOn:
    """Hunts of one sitting with the meter: each begins with what was read, and ends with the last report."""

    wired: Wired
    catalogue: Catalogue
    log: Path
    report: Report | None = field(default=None, init=False)

    @cached_property
    def _known(self) -> Known:
        return Known(Vehicle(self.wired, self.catalogue))

    @cached_property
    def _words(self) -> SeenWords:
        return SeenWords(self.wired.loom, self.catalogue, self._known.ways)

    def hunt(self, found: MeterLog) -> Hunt:
        """The readings as a hunt; with what was said in the log of one that began with the same readings."""
        seen = list(observations(found, self.wired.loom.supply))
        lines = [line_of(each) for each in seen]
        said: list[Observation] = []
        if self.log.exists():
            kept = read_seen(self.log, self._words)
            if [line_of(each) for each in kept[: len(lines)]] == lines:
                said = kept[len(lines) :]
        hunt = Hunt(self._known)
        for each in (*seen, *said):
            hunt.add(each)
        return hunt

    def look(self, found: MeterLog) -> Report | None:
        """What the readings come to without asking anything; nothing where none can be handed over."""
        hunt = self.hunt(found)
        self.report = Report(hunt) if hunt.observations else None
        return self.report

    def hold(self, found: MeterLog) -> bool:
        """Hunt at the terminal until it is to be put right; false where no reading can be handed over.

        Raises EOFError if the person stops.
        """
        hunt = self.hunt(found)
        if not hunt.observations:
            return False
        say("\nNow to find it, from what you have read:")
        try:
            self.report = Tracing(hunt, self._words, self.log, can_be_mended=True).hold()
        except Mended:
            return True
        if self.report.verdict not in ("found", "alike"):
            raise EOFError
        record = self.report.record()
        say("\n".join((record.answer, *record.chain)))
        return True
