"""Finds parts, shows one whole, or prints what a kind of element takes."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planner.commands.work.families import known_family
from planner.commands.work.output import put_json, put_sheet
from planner.model.catalogue import Catalogue
from planner.model.narrowing import Narrowing, years_of
from planner.model.part import Part
from planner.model.search import FoundParts, find_parts
from planner.problems import UsageError
from planner.reading.catalogue import installed_directories, read_catalogue
from planner.reading.validate import suggest
from planner.sheets.build.contact_rows import ContactRows, contact_rows
from planner.sheets.build.kinds import KINDS, kind_json
from planner.sheets.build.parts import part_sheet, parts_sheet


def run(args: argparse.Namespace) -> int:
    """Print one part, or all that answer to the words and options."""
    catalogue = read_catalogue([*installed_directories(), *map(Path, args.catalog)])
    words: Sequence[str] = args.words
    narrowing = _narrowing(args, catalogue)
    one = words[0] if len(words) == 1 else ""
    kind = one.lower() if one.lower() in KINDS and not narrowing.words else None
    found = find_parts(words, catalogue, narrowing)
    named = [part for name, part in catalogue.parts.items() if name == one]
    parts = [part for part in named or found.all if narrowing.fits(part)]
    if not parts and kind is None:
        raise UsageError(_nothing_found(words, found, narrowing))
    if args.json:
        put_json(_as_json(parts, kind, catalogue))
    elif len(parts) == 1 and kind is None:
        put_sheet(part_sheet(parts[0], catalogue))
    else:
        put_sheet(parts_sheet(found, words, kind, narrowing.words))
    return 0


def _narrowing(args: argparse.Namespace, catalogue: Catalogue) -> Narrowing:
    """What the options ask; raises UsageError for what no part can be."""
    family = known_family(args.family, catalogue) if args.family else ""
    if args.role and args.role not in catalogue.roles:
        hint = suggest(args.role, catalogue.roles)
        raise UsageError(f"there is no role {args.role!r}" + (f"; try {hint}" if hint else ""))
    try:
        years = years_of(args.years) if args.years else None
    except ValueError as error:
        raise UsageError(f"--years: {error}") from None
    return Narrowing(family, years, args.role, args.volts)


def _nothing_found(words: Sequence[str], found: FoundParts, narrowing: Narrowing) -> str:
    asked = ", ".join(text for text in (" ".join(words), narrowing.words) if text)
    missing = [" or ".join(f"'{name}'" for name in names) for names in found.unknown]
    if missing:
        hint = f"the catalogue has no part called {', nor '.join(missing)}"
        hint += f"; try {' or '.join(found.near)}" if found.near else "; 'loomwright parts' lists them all"
    elif words and not narrowing.words:
        hint = "each of the words is known, but no part has them all: leave one out"
    else:
        hint = "'loomwright parts' lists them all"
    return f"no part answers to {asked!r}; {hint}"


def _as_json(parts: Sequence[Part], kind: str | None, catalogue: Catalogue) -> dict[str, Any]:
    document: dict[str, Any] = {"parts": [_part(part, catalogue) for part in parts]}
    if kind is not None:
        document["element"] = {"kind": kind, "fields": kind_json(kind)}
    return document


def _part(part: Part, catalogue: Catalogue) -> dict[str, Any]:
    """A part as its file has it, with what each role means, what is joined where, and its source."""
    data = {"years": part.years, **part.model_dump(mode="json", exclude_unset=True)}
    data["inside"] = [{element.pop("element"): element} for element in data.get("inside", ())]
    for terminal in data["terminals"].values():
        role = catalogue.roles.get(terminal.get("role"))
        if role is not None:
            terminal["meaning"] = role.meaning
    data["positions"] = [_positions(table) for table in contact_rows(part)]
    data["publication"] = catalogue.sources[part.source].model_dump(mode="json", exclude_none=True)
    return data


def _positions(table: ContactRows) -> dict[str, Any]:
    """A contact table: its variables, and what is joined at each of their values."""
    rows = [
        {"at": list(values), "joined": [list(group) for group in groups]} for values, groups in table.rows
    ]
    return {"variables": list(table.variables), "rows": rows}
