"""A sitting at the terminal: one line after another is asked, and each answer is kept at once."""

from dataclasses import dataclass, replace
from pathlib import Path

from planner.commands.work.prompt import Back, Plan, ask, say
from planner.commands.work.sitting_lines import Lines
from planner.inquiry.survey.one_cause import one_cause
from planner.inquiry.survey.prepare import Survey
from planner.model.survey_lines import Answers
from planner.problems import UsageError
from planner.reading.survey_supply import POLE, VOLTS, TypedSupply, pole_or_blank, volts_or_blank
from planner.reading.survey_table import SurveyReader
from planner.sheets.build.survey_table import HEADINGS, HOW_SUPPLY, table_rows
from planner.sheets.render.spreadsheet import write_table

HELP = """\
Empty: not known. ?: how to measure. back: the question before. none: no wire there.
plan: leave the rest unknown and plan. stop: stop here; nothing typed is lost."""


@dataclass
class Sitting:
    """Asks what a survey asks, and keeps the answers in a table."""

    kept: Path
    is_new: bool

    def ask_supply(self, survey: Survey, known: TypedSupply) -> TypedSupply:
        """The supply of the vehicle, asked first as far as nobody has said it.

        Raises
        ------
        UsageError
            If the table is there already.
        KeyboardInterrupt
            If the person stops.
        """
        if self.is_new and self.kept.exists():
            raise UsageError(f"{self.kept} is there already; go on from it with --ask --read {self.kept}")
        say(f"{survey.job.title or survey.name}: {len(survey.asked)} lines, and your vehicle first.\n{HELP}")
        return self._ask_supply(survey, known)

    def _ask_supply(self, survey: Survey, known: TypedSupply) -> TypedSupply:
        supply = survey.pattern.supply
        self._keep_supply(survey, known)
        try:
            if known.volts is None:
                prompt = f"\nYour vehicle's {VOLTS} (empty: not known, {supply.volts:g} V in the pattern)"
                volts = ask(prompt, volts_or_blank, lambda: say(f"  {HOW_SUPPLY[VOLTS]}"))[1]
                known = replace(known, volts=volts)
                self._keep_supply(survey, known)
            if known.earthed is None:
                prompt = f"Its {POLE} (empty: not known, {supply.earthed} in the pattern)"
                pole = ask(prompt, pole_or_blank, lambda: say(f"  {HOW_SUPPLY[POLE]}"))[1]
                known = replace(known, earthed=pole)
                self._keep_supply(survey, known)
        except Back:
            return self._ask_supply(survey, TypedSupply())
        except Plan:
            pass
        except (EOFError, KeyboardInterrupt):
            say(f"\nStopped. {self._go_on}")
            raise KeyboardInterrupt from None
        return known

    @property
    def _go_on(self) -> str:
        return f"Your answers are in {self.kept}; go on with --ask --read {self.kept}"

    def _keep_supply(self, survey: Survey, supply: TypedSupply) -> None:
        """Keep it in a table that is new; one that is read holds more, and is written with its lines."""
        if self.is_new:
            answers = Answers({}, supply.volts, supply.earthed)
            write_table(self.kept, HEADINGS, table_rows(survey, answers), overwrite=True)

    def hold(self, survey: Survey, reader: SurveyReader, answers: Answers) -> Answers:
        """Ask every line that is not answered yet, then what the answers leave doubtful; the answers.

        Raises
        ------
        UsageError
            If the table cannot be written.
        KeyboardInterrupt
            If the person stops; what was typed is in the table.
        """
        held = Lines(self.kept, survey, reader, answers, dict(answers.by_key))
        held.keep()
        try:
            held.ask_lines()
            for cause in one_cause(survey, held.answers):
                held.ask_again(cause)
        except Plan:
            pass
        except (EOFError, KeyboardInterrupt):
            say(f"\nStopped. {self._go_on}")
            raise KeyboardInterrupt from None
        say(f"Your answers are in {self.kept}.\n")
        return held.answers
