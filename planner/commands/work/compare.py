"""Compares two parts of the catalogue and prints how they differ."""

import argparse
from pathlib import Path

from planner.commands.work.output import put_json, put_sheet
from planner.model.catalogue import Catalogue
from planner.model.part import Part
from planner.model.search import find_parts
from planner.pipeline import open_catalogue
from planner.problems import UsageError
from planner.proof.part_compare import compare_parts
from planner.reading.validate import suggest
from planner.sheets.build.compare import comparison_sheet

MOST_NAMED = 5


def run(args: argparse.Namespace) -> int:
    """Compare and print; the exit status says whether the other part is a drop-in."""
    catalogue = open_catalogue([Path(directory) for directory in args.catalog])
    original, other = (_find(name, catalogue) for name in (args.original, args.other))
    comparison = compare_parts(original, other, catalogue.roles)
    if args.json:
        put_json(comparison.as_json())
    else:
        put_sheet(comparison_sheet(comparison))
    return 0 if comparison.verdict == "drop-in" else 1


def _find(name: str, catalogue: Catalogue) -> Part:
    if name in catalogue.parts:
        return catalogue.parts[name]
    called = [part.part for part in find_parts([name], catalogue).called[:MOST_NAMED]]
    near = " or ".join(called) or suggest(name, catalogue.parts)
    hint = f"try {near}" if near else "'loomwright parts' lists them all"
    raise UsageError(f"no part has the id {name!r}; {hint}")
