"""A hunt at the terminal: one reading after another is asked for, and each answer is kept at once."""

import shlex
import sys
from dataclasses import dataclass, field, replace
from pathlib import Path

from planner.commands.work.prompt import say
from planner.commands.work.suspected import write_picture
from planner.model.observations import Observation, Settings
from planner.reading.seen_answers import read_seen_answer
from planner.reading.seen_file import seen_text
from planner.reading.seen_line import FORMS, line_of
from planner.reading.seen_lines import read_lines
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood
from planner.sheets.render.whole_file import write_whole
from planner.testing.hunt.explaining import explain
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.meant import loads_meant, settings_meant
from planner.testing.hunt.question import Question
from planner.testing.hunt.report import Report
from planner.testing.hunt.words import Words

HELP = """\
Type what you read or see. Or: skip (cannot be read: another one), why (who is suspected, and why),
list (what was said so far), withdraw N (what was said as N was wrong; undo: the last), quit, ? (this).
Whatever else you have seen counts as well:
"""
_BRIEF = "Type it as it reads: 12.4, 0,3 V, off. Or: skip, why, list, withdraw N, undo, quit, ?"
_MENDED = "Or mended, once you have put something right: what was not good is then read again."
MOST_WAYS = 4  # settings that are offered where several may be meant
_QUIT = ("quit", "stop", "exit", "bye", "end")

_BEGINS = ("wire ", "fuse ", "test lamp ")  # of a line that is no answer to where a wire sits
_INSIDE = (" with ", " at ", " from ", " on ")  # of a line that says by itself where something was read


class Mended(Exception):
    """The person has put something right, and wants to read again."""


def taken_as_meant(hunt: Hunt, seen: Observation, words: SeenWords) -> tuple[Observation, ...]:
    """An observation of each load that is meant, in the setting that goes without saying.

    What was not said is told, so that it can be said otherwise. Raises NotUnderstood where there are several
    settings, or no load.
    """
    loads = loads_meant(hunt.known, seen)
    if not loads:
        raise NotUnderstood("nothing works there as it should be", "a setting in which something works")
    said = Words(hunt.vehicle)
    found = [replace(each, settings=_setting_meant(hunt, each, words)) for each in loads]
    told = [said.seen(now) for now, was in zip(found, loads, strict=True) if now.settings != was.settings]
    if told:
        how = "If not so, say how the controls were: ... with everything at rest."
        say(f"  Taken as: {'; and '.join(told)}. {how}")
    return tuple(found)


def _setting_meant(hunt: Hunt, seen: Observation, words: SeenWords) -> Settings:
    may = settings_meant(hunt.known, seen)
    if len(may) > 1:
        ways = [
            " and ".join(words.said(*each) for each in setting) or "everything at rest"
            for setting in may[:MOST_WAYS]
        ]
        message = f"{Words(hunt.vehicle).load(seen.at)} may be so in more than one setting"
        raise NotUnderstood(message, "one of these behind it: with " + "; or with ".join(ways))
    return may[0]


@dataclass
class Tracing:
    """Asks on the terminal, and keeps what was said in a log."""

    hunt: Hunt
    words: SeenWords
    log: Path
    can_be_mended: bool = False  # whether there are readings to take again once it is put right
    skipped: set[tuple[str, str, str]] = field(default_factory=set)

    def hold(self) -> Report:
        """Hunt until something is found or the person stops; the last report.

        Raises
        ------
        UsageError
            If the log cannot be written.
        KeyboardInterrupt
            If it is interrupted; what was said is in the log.
        """
        title = self.hunt.vehicle.wired.title
        say(f"{title}: what is wrong?\n{_BRIEF}" + (f"\n{_MENDED}" if self.can_be_mended else ""))
        say(f"Kept in {self.log}.")
        is_new = not self.log.exists()
        self._keep()
        try:
            report = self._hunt()
            say(f"\nWhat you said is in {self.log}.")
            write_picture(report, self.log)
            say("")
        except (EOFError, KeyboardInterrupt) as stop:
            if is_new and not self.hunt.observations:
                self.log.unlink()
                say("\nStopped; nothing was said, so nothing is kept.\n")
            else:
                again = f"go on with --log {shlex.quote(str(self.log))}"
                say(
                    f"\nStopped. What you said is in {self.log}"
                    + ("" if self.can_be_mended else f"; {again}")
                )
            if isinstance(stop, KeyboardInterrupt):
                raise
            report = Report(self.hunt, frozenset(self.skipped))
        return report

    def _hunt(self) -> Report:
        while True:
            report = Report(self.hunt, frozenset(self.skipped))
            if report.verdict in ("found", "alike"):
                return report
            self._tell(report)
            self._answered(report)
            self._keep()

    def _keep(self) -> None:
        title = self.hunt.vehicle.wired.title
        lines = [line_of(observation) for observation in self.hunt.observations]
        write_whole(self.log, seen_text(title, lines).encode(), overwrite=True)

    def _tell(self, report: Report) -> None:
        """Say how far it has come, and what to read next."""
        record = report.record()
        if record.verdict == "nothing seen":
            say("\nWhat do you see? Such as: left side lamp off with lighting switch side")
            return
        say(f"\n{record.answer}")
        for said in record.contradictions[:4]:
            say(f"  {said}")
        if record.contradictions:
            say("  Read again, or withdraw what is doubtful.")
        asked = record.question
        if asked is None:
            say("What else do you see or read? (list, withdraw N, or quit)")
            return
        setting = f"\n  Set: {asked.setting}." if asked.setting else ""
        say(f"[{len(record.seen) + 1}]{setting}\n  {asked.words}")
        for outcome in asked.outcomes[:4]:
            sound = " (as it should be)" if outcome.is_sound else ""
            say(f"    {outcome.reading}{sound}: {outcome.means}")

    def _answered(self, report: Report) -> None:
        """Take one answer that changes something; asked again until it is understood."""
        while True:
            print("> ", end="", file=sys.stderr, flush=True)
            typed = input().strip()
            word = typed.casefold()
            try:
                if word in _QUIT:
                    raise EOFError
                if word == "mended" and self.can_be_mended:
                    raise Mended
                if word == "skip" and report.question is not None:
                    asked = report.question
                    self.skipped.add((asked.kind, asked.at, asked.to))
                    return
                if word == "undo" or word.startswith("withdraw"):
                    self._withdraw(f"withdraw {len(self.hunt.observations)}" if word == "undo" else typed)
                    return
                if self._is_said(word, report):
                    continue
                for observation in self._observed(typed, report.question):
                    self.hunt.add(observation)
                return
            except NotUnderstood as error:
                say(f"  {error.message}. Try {error.hint}.")

    def _is_said(self, word: str, report: Report) -> bool:
        """Answer what only asks for words; whether it did."""
        if word in ("?", "help"):
            say(HELP + FORMS)
        elif word == "":
            say(f"  Nothing typed. {_BRIEF}")
        elif word == "list":
            for number, said in enumerate(report.record().seen, 1):
                say(f"  {number}. {said}")
            if not report.record().seen:
                say("  Nothing was said so far.")
        elif word == "why":
            for suspect in report.record().suspects:
                missed = ", ".join(map(str, suspect.unexplained))
                say(f"  {suspect.chance:4.0%}  {suspect.words}{f'; not {missed}' if missed else ''}")
            if report.suspects:
                for line in explain(self.hunt, report.suspects[0].world):
                    say(f"  {line}")
        else:
            return False
        return True

    def _withdraw(self, typed: str) -> None:
        number = typed.rsplit(maxsplit=1)[-1]
        count = len(self.hunt.observations)
        if not number.isdecimal() or not 1 <= int(number) <= count:
            raise NotUnderstood(
                f"{typed!r} names nothing that was said",
                f"withdraw 1 to {count}; list shows them" if count else "something that you see first",
            )
        self.hunt.withdraw(int(number) - 1)
        moved = " What came after it has moved up by one." if int(number) < count else ""
        say(f"  Withdrawn: {number}.{moved}")

    def _lines(self, typed: str, held: Settings = ()) -> tuple[Observation, ...]:
        """What was seen, by a line of its own."""
        lines = read_lines(typed, self.words, held)
        return tuple(each for seen in lines for each in taken_as_meant(self.hunt, seen, self.words))

    def _observed(self, typed: str, asked: Question | None) -> tuple[Observation, ...]:
        """What was read as an answer to the question, or else whatever was seen."""
        last = self.hunt.observations[-1].settings if self.hunt.observations else ()
        if asked is None:
            return self._lines(typed)
        is_line = (
            typed.startswith(_BEGINS) if asked.kind == "sits" else any(w in f" {typed} " for w in _INSIDE)
        )
        if is_line:
            return self._lines(typed, last)
        try:
            kind, says = read_seen_answer(typed, asked.kind, asked.at, self.words)
        except NotUnderstood:
            if len(typed.split()) < 3:
                raise
            return self._lines(typed, last)
        return (
            Observation(
                kind, asked.at, says, asked.setting, asked.to, typed, has_fuses_out=asked.has_fuses_out
            ),
        )
