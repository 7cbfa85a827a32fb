"""Makes the sheet for the bench, and prints or writes it."""

import argparse
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from planner.commands.work.kit import leads_of
from planner.commands.work.output import put_json, put_sheet
from planner.commands.work.plan import as_typed, job_here
from planner.messages import spoken
from planner.model.bench_sheet import BenchSheet
from planner.model.papers import PAPERS
from planner.model.picture import SIDES
from planner.pipeline import open_catalogue
from planner.problems import UsageError
from planner.reading.messages_file import read_messages
from planner.reading.ticks import read_ticks
from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.build.bench_files import FORMS, USUAL_FORMS, WITH_PICTURES, bench_files
from planner.sheets.build.bench_json import bench_json, why_json
from planner.sheets.build.bench_why import why_sheet
from planner.sheets.build.bench_written import written_sheet
from planner.sheets.render.whole_file import write_all
from planner.telling.verdict import exit_status

_Named = TypeVar("_Named", bound=str)


def run(args: argparse.Namespace) -> int:
    """Make the sheet; the exit status is that of the plan."""
    with spoken(read_messages(Path(args.words)) if args.words else {}):
        return _run(args)


def _run(args: argparse.Namespace) -> int:
    if args.force and not args.write:
        raise UsageError("--force says what --write may do: it needs --write DIR")
    for option in ("form", "paper", "side"):
        if getattr(args, option) and not args.write:
            raise UsageError(f"--{option} says what --write writes: it needs --write DIR")
    forms = _forms(args.form) or USUAL_FORMS
    paper, side = _one_of("paper", PAPERS, args.paper), _one_of("side", SIDES, args.side)
    catalogue = open_catalogue(args.catalog)
    ticks = read_ticks(Path(args.done)) if args.done else None
    kit = leads_of(args.kit, catalogue)
    is_page = bool(args.write) and "html" in forms
    is_drawn = bool(args.write) and not WITH_PICTURES.isdisjoint(forms)
    bench = sheet_job(
        args.job or job_here(),
        catalogue,
        ticks,
        kit=kit,
        with_states=is_page,
        with_pictures=is_drawn,
        side=side,
    )
    bench = replace(bench, called=as_typed(bench.called, args.catalog, args.kit))
    if args.why:
        one, other = args.why
        return _say_why(bench, one, other, args.json)
    if args.write:
        files = bench_files(bench, forms, paper)
        contents = {file.name: file.content for file in files}
        write_all(Path(args.write), contents, overwrite=args.force)
        if not args.json:
            put_sheet(written_sheet(bench, args.write, files))
    if args.json:
        put_json(bench_json(bench))
    elif not args.write:
        put_sheet(bench_sheet(bench))
    return exit_status(bench.plan)


def _forms(said: str | None) -> tuple[str, ...]:
    """The forms that somebody names, each once; none stands for all."""
    forms = tuple(dict.fromkeys(form.strip().lower() for form in said.split(","))) if said is not None else ()
    for form in forms:
        if form not in FORMS:
            raise UsageError(f"--form knows no {form!r}; it takes {', '.join(FORMS)}, separated by commas")
    return forms


def _one_of(option: str, known: Sequence[_Named], said: str | None) -> _Named:
    """What somebody names of the things that an option takes, the first if nobody does."""
    if said is None:
        return known[0]
    for one in known:
        if said.strip().lower() == one:
            return one
    raise UsageError(f"--{option} knows no {said!r}; it takes {' or '.join(known)}")


def _say_why(bench: BenchSheet, one: int, other: int, as_json: bool) -> int:
    count = len(bench.plan.steps)
    for number in (one, other):
        if not 1 <= number <= count:
            raise UsageError(f"there is no step {number}; this plan has steps 1 to {count}")
    if one == other:
        raise UsageError(f"step {one} cannot come before itself; name two steps")
    first, then = sorted((one, other))
    if as_json:
        put_json(why_json(bench, first, then))
    else:
        put_sheet(why_sheet(bench, first, then))
    return 0
