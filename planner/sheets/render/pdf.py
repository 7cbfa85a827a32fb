"""Prints a sheet as PDF: how it looks is said in ``paper.typ`` beside this file, which is given data only.

No text of a sheet is ever markup: all of it goes in as one JSON document. Fonts are those that the
typesetting library brings along, and no date is written, so that the same sheet is the same bytes.
"""

import json
import re
from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path
from typing import Any

from planner.messages import tr
from planner.model.papers import MILLIMETRES, Paper
from planner.sheets.render.shown import shown
from planner.sheets.sheet import Block, Cell, Drawing, Figure, Item, Paragraph, Section, Sheet, Table

_TEMPLATE = Path(__file__).with_name("paper.typ")
_LONG = re.compile(r"\S{24,}")
_UNIT = re.compile(r"(?<=\d) (?=(?:V|A|W|ohms?|mm2?|m|ft|in|min|h|s)\b)")  # stays with its figure
_BREAK = "\N{ZERO WIDTH SPACE}"
_LETTERS = re.compile(r'font-size="([\d.]+)"')
# The library's serif is narrower than the fonts that pictures leave room for: of 2,217 different words in the
# pictures of the catalogue's jobs all but "I" and "in" have room for letters that are larger by 1.165.
_LARGER = 1.165
_LONGEST_WHOLE = 1200  # letters of an entry that is kept on one page; a longer one may be longer than a page
_LONGEST_RUNNING = 80  # letters of what stands at the head of a page
# What nobody would write is cut on paper: a name of 10,000 letters would fill pages. Elsewhere it is whole.
LONGEST = 2000
_LONGEST_ON_STRIP = 200
_LONGEST_WORD = 120


def as_pdf(sheet: Sheet, paper: Paper = "a4") -> bytes:
    """The pages of a sheet."""
    # Only who prints pays for the library.
    import typst  # noqa: PLC0415

    pictures: dict[str, bytes] = {}
    width, height = MILLIMETRES[paper]
    data = {
        "title": _text(sheet.title),
        "running": _cut(shown(sheet.title), _LONGEST_RUNNING),
        "warning": _text(sheet.warning),
        "page_of": tr("page {page} of {pages}", page="{page}", pages="{pages}"),
        "width_mm": width,
        "height_mm": height,
        "groups": list(_groups(sheet.sections, pictures)),
    }
    files = {"main.typ": _TEMPLATE.read_bytes(), "sheet.json": json.dumps(data).encode(), **pictures}
    compile_pages: Any = typst.compile  # its types know of paths only, not of files by name
    return bytes(compile_pages(files, ignore_system_fonts=True))


def _groups(sections: Iterable[Section], pictures: dict[str, bytes]) -> Iterator[list[dict[str, Any]]]:
    """Yield the sections that are kept together, most of them alone."""
    group: list[dict[str, Any]] = []
    for section in sections:
        if group and section.begins != "together":
            yield group
            group = []
        group.append(_section(section, pictures))
    if group:
        yield group


def _section(section: Section, pictures: dict[str, bytes]) -> dict[str, Any]:
    return {
        "heading": _text(section.heading),
        "running": _cut(shown(section.heading), _LONGEST_RUNNING),
        "begins": section.begins,
        "blocks": list(_with_pairs(section.blocks, pictures)),
    }


def _with_pairs(blocks: Iterable[Block], pictures: dict[str, bytes]) -> Iterator[dict[str, Any]]:
    """Yield the blocks; pictures that follow one another are one of groups, before and after together."""
    for is_figure, some in groupby(blocks, lambda block: isinstance(block, Figure)):
        if not is_figure:
            yield from (_block(block, pictures) for block in some)
            continue
        groups: list[list[Figure]] = []
        for figure in (block for block in some if isinstance(block, Figure)):
            last = groups[-1][-1].picture if groups else None
            if last and (last.when, figure.picture.when) == ("before", "after"):
                groups[-1].append(figure)
            else:
                groups.append([figure])
        shown_groups = [[_block(figure, pictures) for figure in group] for group in groups]
        yield {"kind": "figures", "groups": shown_groups}


def _block(block: Block, pictures: dict[str, bytes]) -> dict[str, Any]:
    if isinstance(block, Paragraph):
        return {"kind": "paragraph", "cells": [_cell(cell) for cell in block.cells]}
    if isinstance(block, Table):
        return _table(block)
    if isinstance(block, Drawing):
        return {"kind": "drawing", "lines": [shown(line) for line in block.lines]}
    if isinstance(block, Figure):
        name = f"picture-{len(pictures)}.svg"
        pictures[name] = _LETTERS.sub(_larger, block.picture.svg).encode()
        return {
            "file": name,
            "words": _text(block.picture.words),
            "width_mm": block.picture.width_mm,
            "height_mm": block.picture.height_mm,
        }
    return {"kind": "listing", "items": [_item(item) for item in block.items]}


def _larger(size: re.Match[str]) -> str:
    """A size of letters in a picture as it is on paper, where there is more room for them."""
    return f'font-size="{float(size[1]) * _LARGER:.2f}"'


def _table(table: Table) -> dict[str, Any]:
    """A table; a column is as wide as what stands in it if that is short, else by its share."""
    most = _LONGEST_ON_STRIP if table.are_strips else LONGEST
    widths = []
    for column, heading in enumerate(table.headings):
        longest = max((len(row[column].text) for row in table.rows), default=0)
        widths.append(0 if max(longest, len(heading)) <= 22 else min(max(longest, len(heading)), 60))
    return {
        "kind": "table",
        "headings": [_text(heading) for heading in table.headings],
        "rows": [[_cell(cell, most) for cell in row] for row in table.rows],
        "widths": widths,
        "are_strips": table.are_strips,
    }


def _item(item: Item) -> dict[str, Any]:
    letters = sum(len(cell.text) for cell in (item.sign, item.body, *item.below))
    return {
        "sign": _cell(item.sign),
        "body": _cell(item.body),
        "below": [_cell(cell) for cell in item.below],
        "box": bool(item.tick),
        "is_ticked": item.is_ticked,
        "write_in": _text(item.write_in, _LONGEST_RUNNING),
        "stays_whole": letters <= _LONGEST_WHOLE,
    }


def _cell(cell: Cell, most: int = LONGEST) -> dict[str, str]:
    return {"text": _text(cell.text, most), "meaning": cell.meaning}


def _text(text: str, most: int = LONGEST) -> str:
    """A text that ends where it gets very long, and can be broken over lines within a long word."""
    whole = _UNIT.sub("\N{NO-BREAK SPACE}", _cut(shown(text), most))
    return _LONG.sub(lambda word: _BREAK.join(_pieces(_cut(word[0], _LONGEST_WORD))), whole)


def _pieces(word: str, length: int = 12) -> Iterator[str]:
    return (word[n : n + length] for n in range(0, len(word), length))


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else f"{text[: most - 1]}\N{HORIZONTAL ELLIPSIS}"
