"""The lines of a survey at the terminal: asked, gone back to, and taken again where that is doubtful."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from planner.commands.work.prompt import Back, ask, say
from planner.inquiry.survey.matching import agrees
from planner.inquiry.survey.measuring import methods
from planner.inquiry.survey.one_cause import READ_AGAIN, OneCause
from planner.inquiry.survey.prepare import Survey
from planner.model.survey_lines import Answer, Answers, Asked
from planner.reading.survey_table import Key, SurveyReader
from planner.sheets.build.survey_table import HEADINGS, colour_text, table_rows
from planner.sheets.render.spreadsheet import write_table


@dataclass
class Lines:
    """The lines of one survey while they are asked."""

    kept: Path  # the table that every answer is kept in
    survey: Survey
    reader: SurveyReader
    first: Answers
    found: dict[Key, Answer]

    @property
    def answers(self) -> Answers:
        """What is known by now."""
        return replace(self.first, by_key=self.found)

    def keep(self) -> None:
        """Write the table as it is now."""
        write_table(self.kept, HEADINGS, table_rows(self.survey, self.answers), overwrite=True)

    def ask_lines(self) -> None:
        """Ask one after another, back where the person wants."""
        lines = [line for line in self.survey.asked if self.first.of(line).is_blank]
        # What a colour alone is known of comes after that, in case somebody has measured it since.
        lines += [line for line in self.survey.asked if _lacks_reading(line, self.first.of(line))]
        number = 0
        while number < len(lines):
            try:
                self.found[lines[number].key] = self._ask(lines, number)
                number += 1
            except Back:
                number = max(0, number - 1)
            self.keep()

    def ask_again(self, cause: OneCause) -> None:
        """Ask whether lamp or meter was wrong: by one of the readings again, then by the others if it was."""
        doubt = cause.doubt
        say(f"\nBefore the plan: {doubt.about}?")
        say(f"  {doubt.how[:1].upper()}{doubt.how[1:]}. Then take this again.")
        for number, line in enumerate(cause.lines):
            before = self.found[line.key]
            assert before.reading is not None
            prompt = f"  {line.mark} on the {self._title(line)} (first: {before.reading.said}), once more"
            try:
                reading = self._typed(line, prompt, self._meter(line)).reading
            except Back:
                return
            if reading is None:
                return
            is_same = (reading.kind, reading.when) == (before.reading.kind, before.reading.when)
            if is_same and not reading.is_read_again:
                reading = replace(reading, said=f"{reading.said}, {READ_AGAIN}", is_read_again=True)
            self.found[line.key] = replace(before, reading=reading)
            self.keep()
            if is_same or not agrees(reading, line):
                return
            if number == 0 and len(cause.lines) > 1:
                say("  So the first readings were wrong. The others once more:")

    def _title(self, line: Asked) -> str:
        return self.survey.titles[line.place].partition(",")[0]

    def _ask(self, lines: Sequence[Asked], number: int) -> Answer:
        line = lines[number]
        before = self.found.get(line.key, Answer())
        how = self.survey.measurings[line.key]
        title = self.survey.titles[line.place]
        of = f", wire {line.number} of {line.count}" if line.count > 1 else ""
        called = f" ({line.does})" if line.does else ""
        what = "its mounting" if line.kind == "mounting" else f"terminal {line.mark}{called}{of}"
        tag = f" (tag it {line.wire})" if line.wire and line.is_swapped else ""
        leads = f"{tag}; pattern: to {how.leads}" if how.leads else tag
        if not line.is_swapped:
            leads = f", from which the new part may be fed; pattern: {how.expected}"
        say(f"\n[{number + 1} of {len(lines)}] {title}: {what}{leads}")
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
                meter = self._typed(line, "  What the meter says", self._meter(line))
            except Back:
                if has_colour:  # the step before is this line's colour
                    continue
                raise
            return replace(
                answer,
                reading=meter.reading or (before.reading if answer is before else None),
                no_wire=meter.no_wire and answer.colour is None,
                note=before.note,
            )

    def _meter(self, line: Asked) -> Callable[[str], Answer]:
        method = self.survey.measurings[line.key].method
        return lambda text: self.reader.meter(text, method)

    def _typed(self, line: Asked, prompt: str, read: Callable[[str], Answer]) -> Answer:
        """One answer, and how it was taken where that is not what was typed."""
        typed, answer = ask(prompt, read, lambda: self._explain(line))
        said = colour_text(replace(answer, colour_said=""))
        if said and said != typed.casefold():
            say(f"  taken as {said}")
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
        say(f"  {text}{settings}{means}\n    Pattern: {how.expected}")


def _lacks_reading(line: Asked, answer: Answer) -> bool:
    return line.kind == "wire" and not answer.is_blank and answer.reading is None and not answer.no_wire
