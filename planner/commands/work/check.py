"""Checks files or whole catalogues and prints what was checked."""

import argparse
from pathlib import Path
from typing import Any

from planner.commands.work.check_tables import check_wire_list, write_wire_list
from planner.commands.work.output import put_json, put_sheet
from planner.model.catalogue import Catalogue
from planner.pipeline import open_catalogue
from planner.problems import InputError, Problem, UsageError
from planner.reading.catalogue import installed_directories
from planner.reading.checking import check_catalogue, check_file
from planner.reading.people_tables import ENDINGS
from planner.reading.schema import schema
from planner.sheets.build.check import catalogue_sheet, files_sheet, written_sheet


def run(args: argparse.Namespace) -> int:
    """Check and say what was checked; what is wrong is raised as InputError."""
    extra = [Path(directory) for directory in args.catalog]
    if args.schema:
        put_json(schema(args.schema))
        return 0
    if args.wire_list:
        return _write_wire_list(args, extra)
    if args.files:
        checked = _check_files(args.files, extra, is_shown=not args.json)
        if args.json:
            put_json({"checked": checked})
        else:
            put_sheet(files_sheet([(each["file"], each["kind"]) for each in checked]))
        return 0
    catalogue = check_catalogue([*installed_directories(), *extra])
    if args.json:
        put_json(_as_json(catalogue))
    else:
        put_sheet(catalogue_sheet(catalogue))
    return 0


def _as_json(catalogue: Catalogue) -> dict[str, Any]:
    return {
        "roles": list(catalogue.roles),
        "sources": list(catalogue.sources),
        "parts": list(catalogue.parts),
        "looms": list(catalogue.loom_files),
        "jobs": list(catalogue.job_files),
    }


def _write_wire_list(args: argparse.Namespace, extra: list[Path]) -> int:
    if len(args.files) != 1:
        raise UsageError(
            "--wire-list writes the wires of one loom: name its file, or its id in the catalogue"
        )
    out = Path(args.wire_list)
    count = write_wire_list(args.files[0], out, open_catalogue(extra), overwrite=args.overwrite)
    if args.json:
        put_json({"written": str(out), "wires": count})
    else:
        put_sheet(written_sheet(str(out), f"{count} wires of {args.files[0]}"))
    return 0


def _check_files(files: list[str], extra: list[Path], *, is_shown: bool) -> list[dict[str, Any]]:
    """Each file, its kind and what was read of it; what a table was read as is shown at once, if at all."""
    catalogue = open_catalogue(extra)
    checked: list[dict[str, Any]] = []
    problems: dict[Problem, None] = {}
    for file in dict.fromkeys(files):
        try:
            path = Path(file)
            if path.suffix.lower() in ENDINGS:
                checked.append(check_wire_list(path, catalogue, is_shown=is_shown))
            else:
                checked.append({"file": file, "kind": check_file(path, catalogue)})
        except InputError as error:
            problems |= dict.fromkeys(error.problems)
    if problems:
        raise InputError(tuple(problems))
    return checked
