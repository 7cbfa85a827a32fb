"""Takes the readings of a meter page, and prints what they come to."""

import argparse
import shlex
from dataclasses import replace
from pathlib import Path

from planner.commands.work.hunting_on import HuntingOn
from planner.commands.work.kit import leads_of
from planner.commands.work.metering import Metering
from planner.commands.work.output import put_json, put_sheet
from planner.commands.work.plan import as_typed, job_here
from planner.commands.work.suspected import write_picture
from planner.model.meter_page import MeterPage
from planner.pipeline import open_catalogue
from planner.problems import UsageError
from planner.reading.meter_log import read_log
from planner.sheet_pipeline import metered_job
from planner.sheets.build.meter import meter_sheet
from planner.sheets.build.meter_json import log_json
from planner.sheets.build.trace import hunt_sheet

NO_PAGE = MeterPage((), ())


def run(args: argparse.Namespace) -> int:
    """Ask for the readings, or report on those of a log; 0 if all were taken and all are good."""
    catalogue = open_catalogue(args.catalog)
    kit = leads_of(args.kit, catalogue)
    bench, vehicle = metered_job(args.job or job_here(), catalogue, with_as_built=args.as_built, kit=kit)
    job, built = bench.plan.job, bench.as_built
    bench = replace(bench, called=as_typed(bench.called or job, args.catalog, args.kit))
    tests = (built or bench.meter or NO_PAGE).tests
    if not tests:
        raise UsageError(f"{job} changes no wire's end, so there is nothing to measure")
    log = Path(args.log or f"{job}-{'as-built' if built else 'meter'}.yaml")
    if log.exists() and not args.log and not args.report:
        again = f"--log {shlex.quote(str(log))}"
        raise UsageError(f"{log} is there already; go on from it with {again}, or name another")
    if args.report and not log.exists():
        raise UsageError(f"--report needs the log of readings: --log FILE; there is no {log}")
    typed = read_log(log, tests, bench.after.supply.volts) if log.exists() else {}
    hunting = HuntingOn(vehicle, catalogue, log.with_name(f"{log.stem}-hunt.yaml"))
    metering = Metering(bench, tests, log, typed, hunting.hold)
    if not args.report:
        metering.hold()
    found = metering.found()
    report = hunting.look(found) if found.wrong else None
    if report:
        write_picture(report, hunting.log)
    record = report.record() if report else None
    if args.json:
        put_json(log_json(found, built, record))
    else:
        put_sheet(meter_sheet(found, shlex.quote(str(log)), built))
        if record:
            put_sheet(hunt_sheet(record))
    return 0 if not found.wrong and not found.left else 1
