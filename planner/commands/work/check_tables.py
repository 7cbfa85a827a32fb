"""Checks wire lists, and writes a loom's wires as one."""

from pathlib import Path
from typing import Any

from planner.commands.work.output import put_sheet
from planner.model.catalogue import Catalogue
from planner.problems import InputError
from planner.reading.catalogue import read_loom
from planner.reading.loom_file import loom_of_list, loom_without_list, open_wire_list
from planner.reading.yaml_source import shown_name
from planner.sheets.build.wire_list import wire_list
from planner.sheets.build.wire_list_read import wire_list_json, wire_list_sheet
from planner.sheets.render.spreadsheet import write_table


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
