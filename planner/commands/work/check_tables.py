"""Checks wire lists, writes a loom's wires as one, and opens kits of leads."""

from dataclasses import asdict
from pathlib import Path
from typing import Any

from planner.commands.work.output import put_json, put_sheet
from planner.inquiry.kit.matching import match_kit
from planner.model.catalogue import Catalogue
from planner.problems import InputError
from planner.reading.catalogue import read_loom
from planner.reading.kit_leads import Kit, read_kit
from planner.reading.loom_file import loom_of_list, loom_without_list, open_wire_list
from planner.reading.yaml_source import shown_name
from planner.sheets.build.kit import kit_sheet, match_json, match_sheet
from planner.sheets.build.wire_list import wire_list
from planner.sheets.build.wire_list_read import wire_list_json, wire_list_sheet
from planner.sheets.render.spreadsheet import write_table


def check_table(path: Path, catalogue: Catalogue, *, is_shown: bool) -> dict[str, Any]:
    """Check a wire list, or a kit of leads if its headings are those of one; as ``check_wire_list``."""
    try:
        return check_wire_list(path, catalogue, is_shown=is_shown)
    except InputError as error:
        if not any("no heading says" in problem.message for problem in error.problems):
            raise
        try:
            kit = read_kit(path, lambda: catalogue.standards.gauges)
        except InputError:
            raise error from None
    if is_shown:
        put_sheet(kit_sheet(shown_name(path), kit))
    if kit.problems:
        raise InputError(kit.problems)
    return {"file": str(path), "kind": "kit of leads", "leads": [asdict(lead) for lead in kit.leads]}


def check_wire_list(path: Path, catalogue: Catalogue, *, is_shown: bool) -> dict[str, Any]:
    """What each row was read as, also shown if wished; raise InputError with the rows that cannot be read.

    The loom beside it that names the list is checked too, for a row may be right and not fit the others.
    """
    loom_file = loom_of_list(path)
    loom = loom_without_list(loom_file, catalogue) if loom_file else None
    wires = open_wire_list(path, loom, catalogue)
    if is_shown:
        put_sheet(wire_list_sheet(shown_name(path), wires, loom))
    if wires.problems:
        raise InputError(wires.problems)
    if loom_file:
        read_loom(loom_file, catalogue)
    return wire_list_json(str(path), wires, loom)


def write_wire_list(name: str, out: Path, catalogue: Catalogue, *, overwrite: bool) -> int:
    """Write the wires of a loom as a wire list, CSV or XLSX by its name; how many there are."""
    loom = read_loom(name, catalogue)
    headings, rows = wire_list(loom, catalogue.parts)
    write_table(out, headings, rows, sheet="Wires", overwrite=overwrite)
    return len(rows)


def open_kit(path: Path, catalogue: Catalogue) -> Kit:
    """The leads of a kit; InputError with every row that cannot be read, else it would match wrongly."""
    kit = read_kit(path, lambda: catalogue.standards.gauges)
    if kit.problems:
        raise InputError(kit.problems)
    return kit


def show_kit_match(name: str, kit: Path, catalogue: Catalogue, *, as_json: bool) -> int:
    """Show which lead of a kit is which wire of a loom; 1 if any is left over, missing or not decided."""
    leads = open_kit(kit, catalogue).leads
    loom = read_loom(name, catalogue)
    match = match_kit(leads, loom, catalogue.parts)
    if as_json:
        put_json(match_json(str(kit), match))
    else:
        put_sheet(match_sheet(str(kit), loom, match))
    is_open = match.left_over or match.missing or any(not group.is_settled for group in match.groups)
    return 1 if is_open else 0
