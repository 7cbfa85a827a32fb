"""Compares two parts and prints how they differ, alone or fitted in a loom."""

import argparse
from pathlib import Path

from planner.commands.work.output import put_json, put_sheet
from planner.model.catalogue import Catalogue
from planner.model.part import Part
from planner.model.search import find_parts
from planner.pipeline import open_catalogue, plan_fitting
from planner.problems import UsageError
from planner.proof.part_compare import compare_parts
from planner.reading.catalogue import is_file, read_parts
from planner.reading.validate import suggest
from planner.sheets.build.compare import comparison_sheet, fitted_sheet
from planner.telling.verdict import exit_status

MOST_NAMED = 5


def run(args: argparse.Namespace) -> int:
    """Compare and print; the exit status says whether the other part is a drop-in, or is one in that loom."""
    if bool(args.loom) != bool(args.at):
        raise UsageError("--in LOOM and --at PLACE go together: the loom, and where in it the original is")
    catalogue = open_catalogue(args.catalog)
    original, other = (find_part(name, catalogue) for name in (args.original, args.other))
    plan, settled = None, dict[str, str | None]()
    if args.loom:
        plan, settled = plan_fitting(original, other, args.loom, args.at, catalogue)
    comparison = compare_parts(original, other, catalogue.roles, settled)
    if args.json:
        document = comparison.as_json()
        put_json(document if plan is None else document | {"fitted": plan.as_json()})
    else:
        sheet = comparison_sheet(comparison)
        put_sheet(sheet if plan is None else fitted_sheet(sheet, plan))
    if plan is not None:
        return exit_status(plan)
    return 0 if comparison.verdict == "drop-in" else 1


def find_part(name: str, catalogue: Catalogue) -> Part:
    """The part of a catalogue with this id, or the one part in this file.

    Raises UsageError if there is no such part or the file holds several, InputError if it has faults.
    """
    if name in catalogue.parts:
        return catalogue.parts[name]
    if is_file(Path(name)):
        parts = read_parts(Path(name), catalogue)
        if len(parts) != 1:
            raise UsageError(f"{name} holds {len(parts)} parts; expected a file with one part to compare")
        return parts[0]
    called = [part.part for part in find_parts([name], catalogue).called]
    called.sort(key=lambda part: name not in part)  # an id with the word in it before what is called so too
    near = " or ".join(called[:MOST_NAMED]) or suggest(name, catalogue.parts)
    hint = f"try {near}" if near else "'loomwright parts' lists them all"
    raise UsageError(f"no part has the id {name!r}; {hint}")
