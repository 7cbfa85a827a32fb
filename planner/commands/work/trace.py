"""Hunts for the mistake in a vehicle, and prints what it comes to."""

import argparse
import shlex
from pathlib import Path

from planner.commands.work.output import put_json, put_sheet
from planner.commands.work.plan import as_typed, job_here
from planner.commands.work.prompt import say
from planner.commands.work.suspected import write_picture
from planner.commands.work.tracing import Tracing, taken_as_meant
from planner.pipeline import open_catalogue
from planner.problems import InputError, Problem, UsageError
from planner.reading.seen_file import read_seen
from planner.reading.seen_line import line_of
from planner.reading.seen_words import SeenWords
from planner.reading.typed_values import NotUnderstood
from planner.sheet_pipeline import wired
from planner.sheets.build.trace import hunt_sheet
from planner.testing.hunt.hunt import Hunt
from planner.testing.hunt.known import Known
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import Vehicle


def run(args: argparse.Namespace) -> int:
    """Report on what is in a file, or hunt at the terminal; the exit status says whether it was found."""
    catalogue = open_catalogue(args.catalog)
    name = str(args.name or job_here() or "")
    if not name:
        raise UsageError("what is the mistake in? Name a job or a loom: there is no job in this folder")
    vehicle = wired(name, catalogue)
    known = Known(Vehicle(vehicle, catalogue))
    words = SeenWords(vehicle.loom, catalogue, known.ways)
    log = Path(args.log) if args.log else Path(f"{vehicle.name}-hunt.yaml")
    is_asking = not args.json and (args.log is not None or args.seen is None)
    seen = read_seen(Path(args.seen), words) if args.seen else []
    if args.log and log.exists():
        said = {line_of(each) for each in seen}
        seen += [each for each in read_seen(log, words) if line_of(each) not in said]
    elif is_asking and log.exists():
        again = f"--log {shlex.quote(str(log))}"
        raise UsageError(f"{log} is there already; go on from it with {again}, or name another")
    hunt = Hunt(known)
    problems = []
    for observation in seen:
        try:
            for each in taken_as_meant(hunt, observation, words):
                hunt.add(each)
        except NotUnderstood as error:
            assert observation.place is not None  # all of them are read from a file
            problems.append(Problem(observation.place, error.message, hint=error.hint))
    if problems:
        raise InputError(problems)
    report = Tracing(hunt, words, log).hold() if is_asking else Report(hunt)
    if not is_asking:
        write_picture(report, Path(args.seen).with_name(log.name) if args.seen else log)
    if args.json:
        put_json(report.record().as_json())
    else:
        put_sheet(hunt_sheet(report.record()))
    if report.verdict in ("found", "alike"):
        return 0
    if args.seen and not is_asking and not args.json:
        job = as_typed(shlex.quote(name), args.catalog)
        go_on = f"loomwright trace {job} {shlex.join(['--seen', args.seen, '--log', str(log)])}"
        say(f"To go on from here, reading by reading: {go_on}")
    return 1
