"""The files of a folder to start from, and what its owner is told to do with it."""

import json
import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from planner.inquiry.listed_places import ListedPlace
from planner.reading.loom_references import PLACEHOLDER
from planner.reading.schema import schema_files
from planner.reading.text_table import split_table
from planner.sheets.render.workbook import as_workbook
from planner.sheets.sheet import Section, Sheet, bullets, say

_NUMBER = re.compile(r"\d+(\.\d+)?")
_NUMBERS = ("mm2", "metres")


def start_files(templates: Path) -> dict[str, bytes]:
    """A small loom, a job and a wire list that can be planned at once, and the schemas for an editor."""
    texts = {
        name: (templates / name).read_text(encoding="utf-8")
        for name in ("loom.yaml", "job.yaml", "wires.csv")
    }
    return {
        "loom.yaml": texts["loom.yaml"].encode(),
        "job.yaml": texts["job.yaml"].encode(),
        "wires.csv": texts["wires.csv"].replace("\n", "\r\n").encode("utf-8-sig"),
        "wires.xlsx": _as_workbook(texts["wires.csv"]),
        **schema_files("loom", "job"),
    }


def own_list_files(
    templates: Path,
    list_name: str,
    content: bytes,
    places: Sequence[ListedPlace],
    zones: Mapping[str, str],
) -> dict[str, bytes]:
    """A loom that begins with a person's own list: its places are there to be chosen, none is guessed."""
    loom = (templates / "own" / "loom.yaml").read_text(encoding="utf-8")
    if zones:
        lines = [f"  {name}: {{title: {_quoted(title)}}}" for name, title in zones.items()]
        loom = loom.replace("routes: []", "\n".join((*lines, "routes: []")))
    if places:
        loom = loom.replace("places: {}", "places:\n" + "\n".join(_place_lines(places)))
    loom = loom.replace(
        "LIST.csv", _quoted(list_name) if re.search("[^A-Za-z0-9._-]", list_name) else list_name
    )
    job = (templates / "own" / "job.yaml").read_bytes()
    return {"loom.yaml": loom.encode(), "job.yaml": job, list_name: content, **schema_files("loom", "job")}


def start_sheet(
    folder: str,
    files: Mapping[str, bytes],
    places: Sequence[ListedPlace] | None,
    unread: Sequence[str] = (),
) -> Sheet:
    """What is in the new folder and what to do next; ``places`` are those of a person's own list.

    ``unread`` are the headings of that list that mean nothing here.
    """
    named = ", ".join(repr(heading) for heading in unread)
    passed_over = (
        f"Not read, for no column is called so: {named}. 'loomwright check' of the list shows the rest."
    )
    if places is None:
        todo = (
            f"cd {folder} and 'loomwright plan': it works at once, for an invented small van",
            "write your own over the lines marked CHANGE in loom.yaml and job.yaml, and over the wires in "
            "wires.csv (or wires.xlsx; loom.yaml names which)",
            "'loomwright check wires.csv' shows what each row was read as",
            "'loomwright plan' again",
        )
    else:
        todo = (
            f"cd {folder}; in loom.yaml say which part sits at each of the {len(places)} places of your list",
            "'loomwright check loom.yaml' until nothing is wrong",
            "in job.yaml say what comes out and what goes in",
            "'loomwright plan'",
        )
    return Sheet(
        f"Made: {folder}",
        (
            Section(
                "In it", (say(", ".join(sorted(files))), *([say(passed_over, "warn")] if unread else []))
            ),
            Section("Next", (bullets(todo),)),
        ),
    )


def _place_lines(places: Sequence[ListedPlace]) -> list[str]:
    lines: list[str] = []
    for place in places:
        marks = f"wires go to {', '.join(mark for mark in place.marks if mark) or 'no mark'}"
        near = (
            f"may be {' or '.join(place.parts)}" if place.parts else "nothing in the catalogue is called so"
        )
        lines.append(f"  {place.name}: {{part: {PLACEHOLDER}, zone: car, title: {_quoted(place.title)}}}")
        lines.append(f"  # {marks}; {near}")
    return lines


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _as_workbook(text: str) -> bytes:
    first, *others = split_table(text, "wires.csv", ",").rows
    headings = [cell.text for cell in first]
    rows = [
        [
            float(cell.text) if heading in _NUMBERS and _NUMBER.fullmatch(cell.text) else cell.text
            for heading, cell in zip(headings, row, strict=False)
        ]
        for row in others
    ]
    return as_workbook({"Wires": (headings, rows)})
