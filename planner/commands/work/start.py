"""Makes a folder to start from."""

import argparse
from pathlib import Path

from planner.commands.work.output import put_json, put_sheet
from planner.inquiry.listed_places import ListedPlace, listed_places, listed_zones
from planner.pipeline import open_catalogue
from planner.problems import InputError, UsageError
from planner.reading.catalogue import installed_directories
from planner.reading.loom_file import open_wire_list
from planner.reading.yaml_source import read_content
from planner.sheets.build.start import own_list_files, start_files, start_sheet
from planner.sheets.render.whole_folder import write_folder

TEMPLATES = "start"


def run(args: argparse.Namespace) -> int:
    """Make the folder and say what to do next."""
    folder = Path(args.folder)
    places: tuple[ListedPlace, ...] | None = None
    unread: tuple[str, ...] = ()
    if args.wires is None:
        files = start_files(_templates(args.catalog))
    else:
        path = Path(args.wires)
        catalogue = open_catalogue(args.catalog)
        wires = open_wire_list(path, None, catalogue)
        if wires.problems:
            raise InputError(wires.problems)
        unread = wires.unread
        places = listed_places(wires, catalogue)
        files = own_list_files(
            _templates(args.catalog), path.name, read_content(path), places, listed_zones(wires)
        )
    write_folder(folder, files)
    if args.json:
        put_json({"made": str(folder), "files": sorted(files), "unread": list(unread)})
    else:
        put_sheet(start_sheet(str(folder), files, places, unread))
    return 0


def _templates(extra: list[str]) -> Path:
    """The folder of templates in the last catalogue that has one."""
    found = [directory / TEMPLATES for directory in (*installed_directories(), *map(Path, extra))]
    found = [folder for folder in found if (folder / "loom.yaml").is_file()]
    if not found:
        raise UsageError(f"no catalogue has a folder {TEMPLATES!r} to copy from")
    return found[-1]
