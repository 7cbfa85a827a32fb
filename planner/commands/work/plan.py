"""Plans a job and prints the plan."""

import argparse
import shlex
from collections.abc import Sequence
from pathlib import Path

from planner.commands.work.kit import leads_of
from planner.commands.work.output import put_json, put_sheet
from planner.commands.work.watching import work_and_watch
from planner.pipeline import open_catalogue, plan_job
from planner.problems import UsageError
from planner.reading.catalogue import jobs_in
from planner.sheets.build.plan import plan_sheet
from planner.telling.verdict import exit_status


def run(args: argparse.Namespace) -> int:
    """Plan and print; the exit status says whether anything is lost or open."""
    return work_and_watch(_plan, args)


def _plan(args: argparse.Namespace) -> int:
    catalogue = open_catalogue(args.catalog)
    kit = leads_of(args.kit, catalogue)
    done = plan_job(args.job or job_here(), catalogue, charge_percent=args.charge, kit=kit)
    args.kept, plan = done, done.plan  # kept to the end: taking it apart takes a twentieth of the time
    if args.json:
        put_json(plan.as_json())
    else:
        put_sheet(plan_sheet(plan, with_reasons=args.reasons, everything=args.all))
    return exit_status(plan)


def job_here() -> Path | None:
    """The one job of the folder that the person is in; None where there is none."""
    found = jobs_in(Path())
    if len(found) > 1:
        names = " or ".join(path.name for path in found)
        raise UsageError(f"this folder holds {len(found)} jobs; name the one to plan: {names}")
    return found[0] if found else None


def as_typed(called: str, catalogs: Sequence[str], kit: str | None = None) -> str:
    """A job as the next command has to name it: with the folders in which it was found, and the kit."""
    options = [f"--catalog {shlex.quote(folder)}" for folder in catalogs]
    options += [f"--kit {shlex.quote(kit)}"] if kit else []
    return " ".join([called, *options]).strip()
