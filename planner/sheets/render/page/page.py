"""Writes a sheet as one HTML page: no other file, no network, and nothing runs in it but its own script."""

import base64
import hashlib
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from planner.sheets.render.page.shown_text import shown_text
from planner.sheets.sheet import Block, Drawing, Item, Paragraph, Sheet, Table

if TYPE_CHECKING:
    from jinja2 import Environment

_HERE = Path(__file__).parent
BOXES = ("[ ]", "[x]")


def as_page(sheet: Sheet) -> str:
    """The page of a sheet."""
    style, script = _own("page.css"), _own("page.js")
    return (
        _environment()
        .get_template("page.html")
        .render(
            sheet=sheet,
            style=style,
            script=script,
            policy=_policy(style, script),
        )
    )


def _policy(style: str, script: str) -> str:
    """What the page may do: run and look as it does, and nothing else."""
    return (
        f"default-src 'none'; script-src '{_digest(script)}'; style-src '{_digest(style)}'; "
        "base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")


@cache
def _own(name: str) -> str:
    return (_HERE / name).read_text(encoding="utf-8")


@cache
def _environment() -> "Environment":
    from jinja2 import Environment, FileSystemLoader, StrictUndefined  # noqa: PLC0415  slow to import
    from markupsafe import Markup  # noqa: PLC0415

    environment = Environment(
        loader=FileSystemLoader(_HERE),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=lambda value: shown_text(value) if type(value) is str else value,
    )
    environment.filters["own"] = Markup  # our own style and script, never what a file holds
    environment.filters["box"] = _box
    environment.filters["kind"] = _kind
    return environment


def _kind(block: Block) -> str:
    """Which macro writes a block."""
    if isinstance(block, Paragraph):
        return "paragraph"
    if isinstance(block, Table):
        return "table"
    return "drawing" if isinstance(block, Drawing) else "listing"


def _box(item: Item) -> tuple[str, str]:
    """The tick box that an entry begins with, if any, and the rest of its sign."""
    sign = item.sign.text
    box = next((box for box in BOXES if sign.startswith(box)), "")
    return box, sign.removeprefix(box).strip().removesuffix("-")
