"""Finds parts, shows one whole, or prints what a kind of element takes."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planner.commands.work.output import put_json, put_sheet
from planner.model.catalogue import Catalogue
from planner.model.part import Part
from planner.model.search import FoundParts, find_parts
from planner.problems import UsageError
from planner.reading.catalogue import installed_directories, read_catalogue
from planner.sheets.build.kinds import KINDS, kind_json
from planner.sheets.build.parts import part_sheet, parts_sheet


def run(args: argparse.Namespace) -> int:
    """Print one part, or all that answer to the words."""
    catalogue = read_catalogue([*installed_directories(), *map(Path, args.catalog)])
    words: Sequence[str] = args.words
    one = words[0] if len(words) == 1 else ""
    kind = one.lower() if one.lower() in KINDS else None
    found = find_parts(words, catalogue)
    parts = (catalogue.parts[one],) if one in catalogue.parts else found.all
    if not parts and kind is None:
        raise UsageError(_nothing_found(words, found))
    if args.json:
        put_json(_as_json(parts, kind, catalogue))
    elif len(parts) == 1 and kind is None:
        put_sheet(part_sheet(parts[0], catalogue))
    else:
        put_sheet(parts_sheet(found, words, kind))
    return 0


def _nothing_found(words: Sequence[str], found: FoundParts) -> str:
    hint = f"try {' or '.join(found.near)}" if found.near else "'loomwright parts' lists them all"
    return f"no part answers to {' '.join(words)!r}; {hint}"


def _as_json(parts: Sequence[Part], kind: str | None, catalogue: Catalogue) -> dict[str, Any]:
    document: dict[str, Any] = {"parts": [_part(part, catalogue) for part in parts]}
    if kind is not None:
        document["element"] = {"kind": kind, "fields": kind_json(kind)}
    return document


def _part(part: Part, catalogue: Catalogue) -> dict[str, Any]:
    """A part as its file has it, with what each role means and where the data come from."""
    data = part.model_dump(mode="json", exclude_unset=True)
    data["inside"] = [{element.pop("element"): element} for element in data.get("inside", ())]
    for terminal in data["terminals"].values():
        role = catalogue.roles.get(terminal.get("role"))
        if role is not None:
            terminal["meaning"] = role.meaning
    data["publication"] = catalogue.sources[part.source].model_dump(mode="json", exclude_none=True)
    return data
