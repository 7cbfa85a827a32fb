"""A sitting at the terminal: one line after another is asked, and each answer is kept at once."""

import sys
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from planner.inquiry.survey.measuring import methods
from planner.inquiry.survey.prepare import Survey
from planner.model.survey_lines import Answer, Answers, Asked
from planner.problems import UsageError
from planner.reading.survey_table import Key, SurveyReader
from planner.reading.typed_values import NotUnderstood
from planner.sheets.build.survey_table import HEADINGS, colour_text, table_rows
from planner.sheets.render.spreadsheet import write_table

HELP = """\
Empty: not known. ?: how to measure. back: the question before. none: no wire there.
plan: leave the rest unknown and plan. stop: stop here; nothing typed is lost."""


class _Back(Exception):
    """The person wants the line before."""


class _Plan(Exception):
    """The person leaves the rest unknown."""


@dataclass
class Sitting:
    """Asks the lines of a survey and keeps the answers in a table."""

    survey: Survey
    reader: SurveyReader
    kept: Path
    is_new: bool

    def hold(self, answers: Answers) -> Answers:
        """Ask every line that is not answered yet; the answers.

        Raises
        ------
        UsageError
            If the table cannot be written.
        KeyboardInterrupt
            If the person stops; what was typed is in the table.
        """
        if self.is_new and self.kept.exists():
            raise UsageError(f"{self.kept} is there already; go on from it with --ask --read {self.kept}")
        found = dict(answers.by_key)
        lines = [line for line in self.survey.asked if answers.of(line).is_blank]
        # What a colour alone is known of comes after that, in case somebody has measured it since.
        lines += [line for line in self.survey.asked if _lacks_reading(line, answers.of(line))]
        _say(f"{self.survey.job.title or self.survey.name}: {len(lines)} lines.\n{HELP}")
        self._keep(found)
        number = 0
        try:
            while number < len(lines):
                try:
                    found[lines[number].key] = self._ask(lines, number, found)
                    number += 1
                except _Back:
                    number = max(0, number - 1)
                self._keep(found)
        except _Plan:
            pass
        except (EOFError, KeyboardInterrupt):
            _say(f"\nStopped. Your answers are in {self.kept}; go on with --ask --read {self.kept}")
            raise KeyboardInterrupt from None
        _say(f"Your answers are in {self.kept}.\n")
        return Answers(found)

    def _keep(self, found: dict[Key, Answer]) -> None:
        write_table(self.kept, HEADINGS, table_rows(self.survey, Answers(found)), overwrite=True)

    def _ask(self, lines: list[Asked], number: int, found: dict[Key, Answer]) -> Answer:
        line = lines[number]
        before = found.get(line.key, Answer())
        how = self.survey.measurings[line.key]
        title = self.survey.titles[line.place]
        of = f", wire {line.number} of {line.count}" if line.count > 1 else ""
        called = f" ({line.does})" if line.does else ""
        what = "its mounting" if line.kind == "mounting" else f"terminal {line.mark}{called}{of}"
        leads = f"; pattern: to {how.leads}" if how.leads else ""
        if not line.is_swapped:
            leads = f", from which the new part may be fed; pattern: {how.expected}"
        _say(f"\n[{number + 1} of {len(lines)}] {title}: {what}{leads}")
        while True:
            answer = Answer()
            has_colour = line.kind != "mounting" and line.is_swapped
            if has_colour:
                known = f" (empty: {colour_text(before)})" if before.colour else ""
                answer = self._typed(line, f"  Colour of the wire{known}", self.reader.colour)
                answer = (
                    before if answer.is_blank else replace(answer, fitting=before.fitting, mm2=before.mm2)
                )
                if answer.no_wire or (line.kind == "empty" and answer.colour is None):
                    return answer
            try:
                meter = self._typed(line, "  What the meter says", self.reader.meter)
            except _Back:
                if has_colour:  # the step before is this line's colour
                    continue
                raise
            return replace(
                answer,
                reading=meter.reading or (before.reading if answer is before else None),
                no_wire=meter.no_wire and answer.colour is None,
                note=before.note,
            )

    def _typed(self, line: Asked, prompt: str, read: Callable[[str], Answer]) -> Answer:
        """One answer; asked again until it is understood."""
        while True:
            print(f"{prompt}: ", end="", file=sys.stderr, flush=True)
            typed = input().strip()
            word = typed.casefold()
            if word == "?":
                self._explain(line)
            elif word == "back":
                raise _Back
            elif word == "plan":
                raise _Plan
            elif word == "stop":
                raise EOFError
            else:
                try:
                    answer = read(typed)
                except NotUnderstood as error:
                    hint = error.hint.partition(", or the code in the heading")[0]  # a prompt has none
                    _say(f"  {error.message}. Try {hint}.")
                    continue
                said = colour_text(replace(answer, colour_said=""))
                if said and said != word:
                    _say(f"  taken as {said}")
                return answer

    def _explain(self, line: Asked) -> None:
        how = self.survey.measurings[line.key]
        named = dict(methods(self.survey.loom.supply))
        said = {
            "look": "Look whether a wire is on it.",
            "bracket": f"OHMS from its bracket, scraped bright, to bare metal of the body: {named['OHMS']}",
        }
        text = said.get(how.method) or f"{how.method.upper()}: {named[how.method.upper()]}"
        if how.method == "beep":
            text += f" OHMS: {named['OHMS']}"
        settings = f" Here: {how.settings}." if how.settings else ""
        means = "".join(f"\n    {reading}: {meaning}" for reading, meaning in how.means)
        _say(f"  {text}{settings}{means}\n    Pattern: {how.expected}")


def _lacks_reading(line: Asked, answer: Answer) -> bool:
    return line.kind == "wire" and not answer.is_blank and answer.reading is None and not answer.no_wire


def _say(text: str) -> None:
    print(text, file=sys.stderr)
