"""Identifies a part on the bench and prints what it may be."""

import argparse
from pathlib import Path

from planner.commands.work.output import put_json, put_sheet
from planner.inquiry.document import identification_json
from planner.inquiry.identify import identify
from planner.model.catalogue import Catalogue
from planner.model.part import Part
from planner.pipeline import open_catalogue
from planner.problems import UsageError
from planner.reading.bench_readings import read_readings
from planner.reading.validate import suggest
from planner.sheets.build.identify import identification_sheet


def run(args: argparse.Namespace) -> int:
    """Identify and print; the exit status says whether one thing is left."""
    catalogue = open_catalogue([Path(directory) for directory in args.catalog])
    parts = _parts(args.family, catalogue)
    found = identify(read_readings(Path(args.readings)), parts, args.leads)
    if args.json:
        put_json(identification_json(found))
    else:
        put_sheet(identification_sheet(found, catalogue.roles, len(parts)))
    return 0 if found.is_decided else 1


def _parts(family: str | None, catalogue: Catalogue) -> list[Part]:
    parts = list(catalogue.parts.values() if family is None else catalogue.family(family))
    if not parts:
        near = suggest(str(family), {part.family: part for part in catalogue.parts.values()})
        raise UsageError(f"no part is of the family {family!r}; try {near or 'loomwright parts'}")
    return parts
