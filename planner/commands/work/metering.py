"""A sitting with the meter: one test after another is asked, and each reading is judged and kept at once."""

import shlex
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from planner.commands.work.prompt import Back, Plan, ask, say
from planner.model.bench_sheet import BenchSheet
from planner.model.meter_log import MeterLog, Read, Taken
from planner.model.meter_page import MeterTest
from planner.reading.meter_answers import read_answer
from planner.reading.meter_log import log_text
from planner.sheets.build.bench_power import doors_shut
from planner.sheets.build.meter_words import good_words, judged_words, lamp_words, lines_words
from planner.sheets.render.whole_file import write_whole
from planner.testing.page.judging import judge

HELP = """\
Type what the meter reads: 11.8, 11,8 V, 0.3 ohm, 4k7, open. With a test lamp: lit, dim, dark.
Empty: not taken. back: the test before. stop: stop here; nothing typed is lost. ?: more about a test.
If something is not good, it is hunted for when a round of tests is through."""
_DEAD = "\nBattery off (the {post} post), every fuse out, all switches off{doors}, lamps left in."
_FIRST = "\nSomething that was read is not good: put it right, and read it again, before the battery goes on."
_AGAIN = "\nPut it right. Then read again what was not good, or stop here."
_LIVE = (
    "\nNow first power, with a lamp in series and one fuse at a time, as the bench sheet says.\n"
    "Then: all fuses in, battery on, engine off, everything at rest."
)


@dataclass
class Metering:
    """Asks the tests of one job, and keeps what was typed in a log."""

    bench: BenchSheet
    tests: tuple[MeterTest, ...]
    log: Path
    typed: dict[str, str]
    hunt: Callable[[MeterLog], bool]  # for what is not good; whether it is to be read again

    @property
    def volts(self) -> float:
        """The vehicle's nominal volts."""
        return self.bench.after.supply.volts

    def hold(self) -> None:
        """Ask every test that was not taken yet, and hunt for what is not good, until the person stops.

        Dead tests come first; what they show is put right before the battery goes on.

        Raises
        ------
        UsageError
            If the log cannot be written.
        KeyboardInterrupt
            If it is interrupted; what was typed is in the log.
        """
        waiting = [test for test in self.tests if test.id not in self.typed]
        say(f"{self.bench.plan.title}: {len(waiting)} of {len(self.tests)} tests to take.")
        if self.bench.plan.is_demonstration:
            say("This is the built-in demonstration, an invented vehicle: no job was named.")
        say(f"{HELP}\nKept in {self.log}.")
        is_new = not self.log.exists()
        self._keep()
        try:
            self._rounds()
        except (EOFError, KeyboardInterrupt) as stop:
            if is_new and not self.typed:
                self.log.unlink()
                say("\nStopped; nothing was read, so nothing is kept.\n")
            else:
                say(f"\nStopped. Your readings are in {self.log}; go on with --log {self._quoted}\n")
            if isinstance(stop, KeyboardInterrupt):
                raise
        else:
            if self.bench.meter and self.bench.meter.after:
                say(f"\nAfterwards: {self.bench.meter.after}.")
            say(f"\nYour readings are in {self.log}.\n")

    def _rounds(self) -> None:
        """Take the dead tests, then the live ones; after each round what is not good is hunted for."""
        for is_dead in (True, False):
            own = [test for test in self.tests if (test.stage == "dead") == is_dead]
            self._take([test for test in own if test.id not in self.typed])
            while wrong := [taken.test for taken in self.found().wrong if taken.test in own]:
                if not self.hunt(self.found()):
                    break
                say(_AGAIN)
                self._take(wrong)

    def _take(self, waiting: Sequence[MeterTest]) -> None:
        """Ask some tests one after another."""
        number = 0
        before: MeterTest | None = None
        while number < len(waiting):
            test = waiting[number]
            self._introduce(test, before)
            before = test
            try:
                self._ask(test)
                number += 1
            except Back:
                number = max(0, number - 1)
            self._keep()

    @property
    def _quoted(self) -> str:
        return shlex.quote(str(self.log))

    def found(self) -> MeterLog:
        """All that was read, judged."""
        taken = [
            judge(test, self.typed[test.id], read)
            for test in self.tests
            if test.id in self.typed and (read := self._read(self.typed[test.id], test)) is not None
        ]
        done = {each.test.id for each in taken}
        left = tuple(test for test in self.tests if test.id not in done)
        return MeterLog(self.bench.called, self.bench.plan.title, tuple(taken), left)

    def _read(self, typed: str, test: MeterTest) -> Read | None:
        return read_answer(typed, test, self.volts)

    def _keep(self) -> None:
        kept = {test.id: self.typed[test.id] for test in self.tests if test.id in self.typed}
        write_whole(self.log, log_text(self.bench.plan.title, kept).encode(), overwrite=True)

    def _introduce(self, test: MeterTest, before: MeterTest | None) -> None:
        """Say how the vehicle has to stand, from where the test before left it."""
        if before is None or before.stage != test.stage:
            if test.stage == "dead":
                say(_DEAD.format(post=self.bench.earthed_post_after, doors=doors_shut(self.bench)))
            else:
                say((_FIRST if self.found().wrong else "") + _LIVE)
        say("")
        if before is not None and before.settings == test.settings:
            return
        if before is not None and before.n == test.n - 1:
            words = test.set_words
        else:
            words = f"{test.all_set_words or 'everything at rest'}; all else at rest" if test.settings else ""
        if words:
            say(f"Set: {words}.")

    def _ask(self, test: MeterTest) -> None:
        """Ask one test, and say what its reading comes to; an empty answer leaves it open."""
        what = "ohms" if test.quantity == "ohms" else "volts"
        say(f"[{test.n} of {len(self.tests)}] {what.capitalize()}, {test.where_words}")
        say(f"  good: {good_words(test)}; {lamp_words(test)}")
        try:
            typed, read = ask("  Reads", lambda text: self._read(text, test), lambda: self._explain(test))
        except Plan:
            typed, read = "", None
        if read is None:
            self.typed.pop(test.id, None)
            return
        self.typed[test.id] = typed
        self._judge(judge(test, typed, read))
        if isinstance(read, float) and read < 0.0 and test.low <= -read <= test.high:
            say("  It is good but for its sign: the leads may be changed over. Look, and read again (back).")

    def _judge(self, taken: Taken) -> None:
        for line in judged_words(taken):
            say(f"  {line}")

    def _explain(self, test: MeterTest) -> None:
        say(f"  {test.why}")
        for line in lines_words(test):
            say(f"  {line}")
        if test.steps:
            say(f"  It tests steps {', '.join(map(str, test.steps))} of the work list.")
