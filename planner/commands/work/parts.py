"""Finds parts, shows one whole, or prints what a kind of element takes."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planner.commands.work.output import put_json, put_sheet
from planner.model.catalogue import Catalogue
from planner.model.part import Part
from planner.model.search import find_parts
from planner.pipeline import open_catalogue
from planner.sheets.build.kinds import KINDS, kind_json, kind_section
from planner.sheets.build.parts import part_sheet, parts_list
from planner.sheets.sheet import Sheet


def run(args: argparse.Namespace) -> int:
    """Print one part, or all that answer to the words; 1 if none does."""
    catalogue = open_catalogue([Path(directory) for directory in args.catalog])
    words: Sequence[str] = args.words
    kind = words[0].lower() if len(words) == 1 and words[0].lower() in KINDS else None
    exact = catalogue.parts.get(words[0]) if len(words) == 1 else None
    parts = [exact] if exact else find_parts(words, catalogue)
    if args.json:
        put_json(_as_json(parts, kind, catalogue))
    elif len(parts) == 1 and kind is None:
        put_sheet(part_sheet(parts[0], catalogue))
    else:
        title = f"Parts: {' '.join(words)}" if words else "All parts"
        kinds = (kind_section(kind),) if kind else ()
        put_sheet(Sheet(title, (*kinds, parts_list(parts, words))))
    return 0 if parts or kind else 1


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
