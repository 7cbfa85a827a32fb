"""Hunts for the mistake in a vehicle, and prints what it comes to."""

import argparse
from pathlib import Path

from planner.commands.work.output import put_json, put_sheet
from planner.commands.work.tracing import Tracing
from planner.pipeline import open_catalogue
from planner.problems import UsageError
from planner.reading.seen_file import read_seen
from planner.reading.seen_words import SeenWords
from planner.sheet_pipeline import wired
from planner.sheets.build.trace import hunt_sheet
from planner.testing.hunt.hunt import Hunt, Known
from planner.testing.hunt.report import Report
from planner.testing.hunt.vehicle import Vehicle


def run(args: argparse.Namespace) -> int:
    """Report on what is in a file, or hunt at the terminal; the exit status says whether it was found."""
    catalogue = open_catalogue(args.catalog)
    vehicle = wired(args.name, catalogue)
    words = SeenWords(vehicle.loom, catalogue)
    log = Path(args.log) if args.log else Path(f"{Path(args.name).stem}-hunt.yaml")
    is_asking = not args.json and (args.log is not None or args.seen is None)
    seen = read_seen(Path(args.seen), words) if args.seen else []
    if args.log and log.exists():
        seen += read_seen(log, words)
    elif is_asking and log.exists():
        raise UsageError(f"{log} is there already; go on from it with --log {log}, or name another")
    hunt = Hunt(Known(Vehicle(vehicle, catalogue)))
    for observation in seen:
        hunt.add(observation)
    report = Tracing(hunt, words, log).hold() if is_asking else Report(hunt)
    if args.json:
        put_json(report.record().as_json())
    else:
        put_sheet(hunt_sheet(report.record()))
    return 0 if report.verdict in ("found", "alike") else 1
