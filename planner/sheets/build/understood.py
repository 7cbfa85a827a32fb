"""The sheet of what was understood from a person's answers, and what is next."""

from collections.abc import Iterator

from planner.inquiry.survey.prepare import Survey
from planner.inquiry.survey.taking import Surveyed, Understood
from planner.model.loom import Known
from planner.sheets.build.survey_table import colour_text
from planner.sheets.sheet import Block, Cell, Meaning, Section, Sheet, Table, bullets, say

WEIGHTS: dict[Known, tuple[str, Meaning]] = {
    "measured": ("measured", "good"),
    "seen": ("seen, not measured", "warn"),
    "drawing": ("from a drawing", "warn"),
    "assumed": ("assumed", "warn"),
}


def understood_sheet(surveyed: Surveyed, job_file: str) -> Sheet:
    """What was understood line by line, what is doubtful, what was overruled, and what comes next."""
    survey = surveyed.survey
    rows = tuple(_row(survey, line) for line in surveyed.lines)
    table = Table(("Part", "Mark", "Tag", "Colour", "Taken as", "Weight"), rows)
    sections = (
        Section("", (say(_supply(surveyed)), table)),
        Section("Is the vehicle different, or was it measured wrongly?", tuple(_doubts(surveyed))),
        Section("The pattern was overruled", tuple(_overruled(surveyed))),
        Section("Next", (bullets(tuple(_next(surveyed, job_file))),)),
    )
    title = f"Understood: {survey.job.title or survey.name}"
    return Sheet(title, tuple(section for section in sections if section.blocks))


def _row(survey: Survey, line: Understood) -> tuple[Cell, ...]:
    asked = line.asked
    mark = f"{asked.mark} ({asked.number})" if asked.count > 1 or asked.number > 1 else asked.mark
    weight, meaning = WEIGHTS[line.known]
    return (
        Cell(survey.titles[asked.place].partition(",")[0]),
        Cell(mark, "strong"),
        Cell(line.tag or "-"),
        Cell("-" if asked.kind == "mounting" else colour_text(line.answer) or "not known"),
        Cell(line.says),
        Cell(weight, meaning),
    )


def _has_no_colour(line: Understood) -> bool:
    return line.asked.kind == "wire" and not (line.answer.colour or line.answer.no_wire)


def _supply(surveyed: Surveyed) -> str:
    said = surveyed.answers.volts is not None and surveyed.answers.earthed is not None
    how = "as you said" if said else "as far as you have not said, the pattern's"
    return f"Supply: {surveyed.loom.supply.words}, {how}."


def _doubts(surveyed: Surveyed) -> Iterator[Block]:
    if surveyed.doubts:
        text = "The readings are taken as they stand, but the plan asks this first:"
        yield say(text, "warn")
        yield bullets(tuple(f"{cause.doubt.about}?" for cause in surveyed.doubts), "warn")


def _overruled(surveyed: Surveyed) -> Iterator[Block]:
    if surveyed.overruled:
        yield bullets(surveyed.overruled, "warn")


def _next(surveyed: Surveyed, job_file: str) -> Iterator[str]:
    if surveyed.open:
        lines = "1 line is" if surveyed.open == 1 else f"{surveyed.open} lines are"
        yield f"{lines} not answered: the plan below asks for the readings that it needs."
    elif any(line.known == "seen" for line in surveyed.lines):
        yield "What is seen but not measured may be something else: the plan below asks where it matters."
    is_unseen = any(wire.known == "assumed" for wire in surveyed.loom.wires)  # also further on, unasked
    if is_unseen or any(_has_no_colour(line) for line in surveyed.lines):
        yield "Where no colour is known, the plan shows the pattern's: go by mark and tag there."
    folder = job_file.rpartition("/")[0]
    yield f"Your loom and job are in {folder}; plan again with: loomwright plan {job_file}"
