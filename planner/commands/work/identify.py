"""Identifies a part on the bench and prints what it may be."""

import argparse
import re
from pathlib import Path

from planner.commands.work.families import known_family
from planner.commands.work.output import put_json, put_sheet
from planner.inquiry.part.document import identification_json
from planner.inquiry.part.identify import Identification, identify
from planner.inquiry.part.measured_part import MeasuredPart, measured_part
from planner.model.catalogue import Catalogue
from planner.pipeline import open_catalogue
from planner.problems import UsageError
from planner.reading.bench_readings import read_readings
from planner.reading.yaml_text import yaml_of_part
from planner.sheets.build.identify import identification_sheet
from planner.sheets.render.whole_file import write_whole

_NOT_IN_IDS = re.compile(r"[^a-z0-9.-]+")


def run(args: argparse.Namespace) -> int:
    """Identify and print; the exit status says whether one thing is left."""
    catalogue = open_catalogue(args.catalog)
    family = known_family(args.family, catalogue) if args.family else None
    parts = list(catalogue.family(family) if family else catalogue.parts.values())
    found = identify(read_readings(Path(args.readings)), parts, args.leads)
    written = _write(Path(args.write), found, catalogue, family) if args.write else None
    if args.json:
        put_json(identification_json(found, written))
    else:
        put_sheet(identification_sheet(found, catalogue.roles, len(parts), written, args.write))
    return 0 if found.is_decided else 1


def _write(path: Path, found: Identification, catalogue: Catalogue, family: str | None) -> MeasuredPart:
    """Write the measured part under its file's name; raises UsageError if that cannot be."""
    name = _NOT_IN_IDS.sub("-", path.stem.lower()).strip("-.")[:60]
    if path.suffix != ".yaml" or not name:
        raise UsageError(f"{path} is not written: expected a name that ends in .yaml, such as my-switch.yaml")
    if name in catalogue.parts:
        raise UsageError(f"{path} is not written: the catalogue has a part {name}; take another name")
    measured = measured_part(found, name, family, tuple(catalogue.family(family)) if family else ())
    remarks = ("Made by 'loomwright identify' from meter readings. What is not known:", *measured.unknown)
    write_whole(path, yaml_of_part(measured.part, remarks).encode())
    return measured
