"""Surveys a swap: prints what to find out, or takes the answers and plans."""

import argparse
import sys
from dataclasses import replace
from pathlib import Path

from planner.commands.work.failure import say_lines
from planner.commands.work.output import put_json, put_sheet
from planner.commands.work.sitting import Sitting
from planner.inquiry.survey.answering import take_answers
from planner.inquiry.survey.prepare import Survey, prepare
from planner.inquiry.survey.taking import Surveyed
from planner.model.catalogue import Catalogue
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.survey_lines import Answers
from planner.model.swap_search import find_swaps, near_words, nearest_swaps
from planner.pipeline import open_catalogue, plan_job
from planner.problems import InputError, Problem, UsageError
from planner.reading.catalogue import is_file, read_job, read_jobs
from planner.reading.survey_supply import TypedSupply, read_supply
from planner.reading.survey_table import SurveyReader, survey_table
from planner.sheets.build.plan import plan_sheet
from planner.sheets.build.survey import survey_sheet, swaps_sheet
from planner.sheets.build.survey_json import survey_json, surveyed_json, swaps_json
from planner.sheets.build.survey_table import HEADINGS, table_rows
from planner.sheets.build.understood import understood_sheet
from planner.sheets.render.own_folder import check_folder, write_own
from planner.sheets.render.spreadsheet import write_table
from planner.telling.verdict import exit_status

MOST_NAMED = 12


def run(args: argparse.Namespace) -> int:
    """List the swaps, print a survey, or plan from answers with the plan's exit status."""
    catalogue = open_catalogue(args.catalog)
    words = " ".join(args.swap).strip()
    if not words:
        return _list_swaps(args, catalogue)
    job, loom = _choose(words, catalogue)
    survey = prepare(job, loom, catalogue)
    if args.read or args.ask:
        return _plan_own(args, survey, catalogue)
    if args.into:
        raise UsageError("--into is for a plan from answers; give --ask or --read FILE as well")
    if args.write:
        write_table(Path(args.write), HEADINGS, table_rows(survey, Answers({})))
        print(f"written: {args.write}; fill it in, then --read it", file=sys.stderr)
    if args.json:
        put_json(survey_json(survey))
    elif not args.write:
        put_sheet(survey_sheet(survey, catalogue))
    return 0


def _list_swaps(args: argparse.Namespace, catalogue: Catalogue) -> int:
    if args.read or args.ask or args.write or args.into:
        raise UsageError("which swap? 'loomwright survey' alone lists them")
    titles = {name: job.title or name for name, job in read_jobs(catalogue).items()}
    if args.json:
        put_json(swaps_json(titles))
    else:
        put_sheet(swaps_sheet(titles))
    return 0


def _choose(words: str, catalogue: Catalogue) -> tuple[Job, Loom]:
    """The job that is meant: a file, a name, or words that only one answers to."""
    if is_file(Path(words)) or words in catalogue.job_files or words.endswith((".yaml", ".yml")):
        return read_job(Path(words) if is_file(Path(words)) else words, catalogue)
    jobs = read_jobs(catalogue)
    found = find_swaps([words], jobs, catalogue)
    if len(found) == 1:
        return read_job(found[0], catalogue)
    if found:
        named = "".join(f"\n    {name}: {jobs[name].title or name}" for name in found[:MOST_NAMED])
        more = f"\n    and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
        raise UsageError(f"{len(found)} swaps answer to {words!r}; say which by its name:{named}{more}")
    if nearest := nearest_swaps([words], jobs, catalogue):
        named = "".join(f"\n    {name}: {jobs[name].title or name}" for name in nearest)
        raise UsageError(f"no swap answers to all of {words!r}; by their words the nearest are:{named}")
    near = near_words([words], jobs)
    hint = f"try {' or '.join(near)}" if near else "'loomwright survey' lists them all"
    raise UsageError(f"no swap answers to {words!r}; {hint}")


def _plan_own(args: argparse.Namespace, survey: Survey, catalogue: Catalogue) -> int:
    """Take the answers, write the person's own loom and job, and plan what was written."""
    folder = Path(args.into or survey.name)
    check_folder(folder)
    surveyed = _surveyed(args, survey, catalogue)
    job_file = write_own(folder, surveyed.job, surveyed.loom, lambda file: read_job(file, catalogue))
    plan = plan_job(job_file, catalogue).plan
    if args.json:
        put_json(surveyed_json(surveyed, plan, str(folder)))
    else:
        put_sheet(understood_sheet(surveyed, str(job_file)))
        print()
        put_sheet(plan_sheet(plan))
    return exit_status(plan)


def _surveyed(args: argparse.Namespace, survey: Survey, catalogue: Catalogue) -> Surveyed:
    """What the answers make of the pattern, at the supply that they name."""
    supply, table, problems = TypedSupply(), None, list[Problem]()
    if args.read:
        if args.write:
            raise UsageError("--read and --write together: answers are kept in the file that is read")
        table = survey_table(Path(args.read))
        supply, faults = read_supply(table.rows)
        problems += faults
    kept = Path(args.read or args.write or f"{survey.name}-survey.csv")
    sitting = Sitting(kept, is_new=not args.read) if args.ask else None
    if sitting:
        supply = sitting.ask_supply(survey, supply)
    own = prepare(survey.shipped, survey.pattern, catalogue, supply.over(survey.pattern.supply))
    methods = {key: how.method for key, how in own.measurings.items()}
    reader = SurveyReader(own.asked, own.titles, own.loom, catalogue, methods)
    answers = Answers({})
    if table:
        answers, faults = reader.read(table)
        problems += faults
    answers = replace(answers, volts=supply.volts, earthed=supply.earthed)
    if problems and not sitting:
        raise InputError(problems)
    for problem in problems:
        say_lines(problem.lines())
    if sitting:
        answers = sitting.hold(own, reader, answers)
    return take_answers(own, answers, catalogue)
