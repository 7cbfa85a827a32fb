"""Surveys of shipped jobs, and answers as if the vehicle were the pattern itself and all of it measured."""

from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from planned import catalogue

from planner.inquiry.survey.prepare import Survey, prepare
from planner.model.loom import split_address
from planner.model.survey_lines import Answers, Asked
from planner.problems import Problem
from planner.reading.catalogue import read_job
from planner.reading.survey_supply import read_supply
from planner.reading.survey_table import SurveyReader, survey_table
from planner.sheets.build.survey_table import HEADINGS, table_rows

COLOUR, METER = HEADINGS.index("colour seen"), HEADINGS.index("meter says")


@lru_cache
def survey_of(job: str) -> Survey:
    """The survey of a shipped job."""
    return prepare(*read_job(job, catalogue()), catalogue())


def reader_of(survey: Survey) -> SurveyReader:
    """What reads its table."""
    return SurveyReader(survey.asked, survey.titles, survey.loom, catalogue())


def read_answers(survey: Survey, path: Path) -> tuple[Answers, tuple[Problem, ...]]:
    """The answers of its table, with what that says of the supply."""
    table = survey_table(path)
    supply, faults = read_supply(table.rows)
    answers, problems = reader_of(survey).read(table)
    return replace(answers, volts=supply.volts, earthed=supply.earthed), (*faults, *problems)


def blank_rows(survey: Survey) -> tuple[list[list[str]], list[list[str]]]:
    """The rows of its table: those about the vehicle, as the pattern, and those of its lines, blank."""
    rows = [list(row) for row in table_rows(survey, Answers({}))]
    first = len(rows) - len(survey.asked)  # none may be asked, where a part only comes into a new place
    vehicle, lines = rows[:first], rows[first:]
    supply = survey.pattern.supply
    for row, said in zip(vehicle, (f"{supply.volts:g} V", supply.earthed), strict=True):
        row[METER] = said
    return vehicle, lines


def as_the_pattern(survey: Survey, line: Asked) -> tuple[str, str]:
    """The colour that the pattern has at a line, and what a meter says there."""
    if line.kind == "mounting":
        return "", "0 ohms to body" if line.nature == "earth" else "nothing"
    colour = survey.loom.find(line.wire).end_colour(line.end) if line.wire and line.is_swapped else ""
    if line.kind == "empty" and line.is_swapped:
        return "no wire", ""
    return colour, _meter(survey, line)


def _meter(survey: Survey, line: Asked) -> str:
    volts = f"{survey.loom.supply.volts:g} V"
    if line.nature in ("always-live", "ignition-live", "switched-live"):
        with_what = {"always-live": "always", "ignition-live": "with ignition"}
        return f"{volts} {with_what.get(line.nature, 'with its switch on')}"
    if line.nature in ("earth", "switched-earth"):
        return "0 ohms to body" if line.nature == "earth" else "0 ohms to body with its switch closed"
    places = survey.loom.places
    there = next((at for at in line.addresses if split_address(at)[0] in places), None)
    return f"beeps to {there}" if there else "nothing"
