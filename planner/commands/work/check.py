"""Checks files or whole catalogues and prints what was checked."""

import argparse
from pathlib import Path
from typing import Any

from planner.commands.work.output import put_json, put_sheet
from planner.model.catalogue import Catalogue
from planner.pipeline import open_catalogue
from planner.problems import InputError, Problem
from planner.reading.catalogue import installed_directories
from planner.reading.checking import check_catalogue, check_file
from planner.reading.schema import schema
from planner.sheets.build.check import catalogue_sheet, files_sheet


def run(args: argparse.Namespace) -> int:
    """Check and say what was checked; what is wrong is raised as InputError."""
    extra = [Path(directory) for directory in args.catalog]
    if args.schema:
        put_json(schema(args.schema))
        return 0
    if args.files:
        kinds = _check_files(args.files, extra)
        if args.json:
            put_json({"checked": [{"file": file, "kind": kind} for file, kind in kinds]})
        else:
            put_sheet(files_sheet(kinds))
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


def _check_files(files: list[str], extra: list[Path]) -> list[tuple[str, str]]:
    catalogue = open_catalogue(extra)
    kinds: list[tuple[str, str]] = []
    problems: dict[Problem, None] = {}
    for file in dict.fromkeys(files):
        try:
            kinds.append((file, check_file(Path(file), catalogue)))
        except InputError as error:
            problems |= dict.fromkeys(error.problems)
    if problems:
        raise InputError(tuple(problems))
    return kinds
