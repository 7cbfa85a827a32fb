"""Checks files or whole catalogues, prints what was checked, and explains looms."""

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from planner.commands.work.check_tables import check_table, show_kit_match, write_wire_list
from planner.commands.work.output import put_json, put_sheet
from planner.commands.work.watching import work_and_watch
from planner.inquiry.loom.account import LoomAccount, SwapLine
from planner.inquiry.loom.explain import explain, swap_lines
from planner.model.catalogue import Catalogue
from planner.model.wording import counted
from planner.pipeline import open_catalogue
from planner.problems import InputError, Problem, UsageError
from planner.reading.catalogue import find_file, installed_directories
from planner.reading.checking import CheckedFile, check_catalogue, check_file
from planner.reading.people_tables import ENDINGS
from planner.reading.schema import schema
from planner.sheets.build.account import account_sheet
from planner.sheets.build.check import catalogue_sheet, files_sheet, written_sheet

Account = tuple[LoomAccount, tuple[SwapLine, ...]]


def run(args: argparse.Namespace) -> int:
    """Check and say what was checked; what is wrong is raised as InputError."""
    if args.watch and (args.schema or args.wire_list):
        raise UsageError("--watch checks again and again; it does not go with --schema or --wire-list")
    if args.force and not args.wire_list:
        raise UsageError("--force says what --wire-list may do: it needs --wire-list OUT")
    return work_and_watch(_check, args)


def _check(args: argparse.Namespace) -> int:
    if args.schema:
        put_json(schema(args.schema))
        return 0
    if args.wire_list:
        return _write_wire_list(args)
    if args.kit:
        return _match_kit(args)
    if args.files:
        _check_and_explain(args.files, open_catalogue(args.catalog), as_json=args.json)
        return 0
    catalogue = check_catalogue([*installed_directories(), *map(Path, args.catalog)])
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


def _write_wire_list(args: argparse.Namespace) -> int:
    if len(args.files) != 1:
        raise UsageError(
            "--wire-list writes the wires of one loom: name its file, or its id in the catalogue"
        )
    out = Path(args.wire_list)
    count = write_wire_list(args.files[0], out, open_catalogue(args.catalog), overwrite=args.force)
    if args.json:
        put_json({"written": str(out), "wires": count})
    else:
        put_sheet(written_sheet(str(out), f"{counted(count, 'wire')} of {args.files[0]}"))
    return 0


def _match_kit(args: argparse.Namespace) -> int:
    if len(args.files) != 1:
        raise UsageError(
            "--kit matches leads to the wires of one loom: name its file, or its id in the catalogue"
        )
    return show_kit_match(args.files[0], Path(args.kit), open_catalogue(args.catalog), as_json=args.json)


def _check_and_explain(files: list[str], catalogue: Catalogue, *, as_json: bool) -> None:
    """Check files, then explain the looms and jobs among them; what a table was read as is shown at once."""
    checked: list[dict[str, Any]] = []
    found: list[Account] = []
    problems: dict[Problem, None] = {}
    for file in dict.fromkeys(files):
        try:
            if Path(file).suffix.lower() in ENDINGS:
                checked.append(check_table(Path(file), catalogue, is_shown=not as_json))
            else:
                said = check_file(find_file(file, catalogue), catalogue)
                checked.append({"file": file, "kind": said.kind})
                found += _accounts(said, checked[-1], catalogue)
        except InputError as error:
            problems |= dict.fromkeys(error.problems)
    if problems:
        raise InputError(tuple(problems))
    if as_json:
        put_json({"checked": checked})
        return
    put_sheet(files_sheet([(each["file"], each["kind"]) for each in checked]))
    for account, swaps in found:
        print()
        put_sheet(account_sheet(account, swaps))


def _accounts(said: CheckedFile, document: dict[str, Any], catalogue: Catalogue) -> Iterator[Account]:
    """Yield the explanation of the loom of a file, if it has one, and put it into its document as well."""
    if said.loom is None:
        return
    swaps = tuple(swap_lines(said.job, said.loom, catalogue)) if said.job else ()
    account = explain(said.loom, catalogue)
    document |= {"explanation": account.as_json()}
    if said.job:
        document |= {"swaps": [line.as_json() for line in swaps]}
    yield account, swaps
