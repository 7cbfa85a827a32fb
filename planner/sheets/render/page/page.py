"""Writes a sheet as one HTML page: no other file, no network, and nothing runs in it but its own script."""

import base64
import hashlib
import json
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.model.page_states import PageStates
from planner.sheets.render.page.drawn import drawn
from planner.sheets.render.page.page_words import page_words, state_words
from planner.sheets.render.page.state_tables import state_tables
from planner.sheets.render.shown import shown
from planner.sheets.sheet import Block, Drawing, Figure, Item, Listing, Paragraph, Sheet, Table

if TYPE_CHECKING:
    from jinja2 import Environment

_HERE = Path(__file__).parent
_SCRIPTS = ("ticks.js", "diagrams.js", "live.js")


def as_page(sheet: Sheet, name: str, states: PageStates | None = None) -> str:
    """The page of a sheet; ``name`` is that of its job, ``states`` what its live picture shows."""
    style, script = _own("page.css"), "".join(map(_own, _SCRIPTS))
    words = page_words()
    known = {
        "job": name,
        "key": f"loomwright {name} {_content(sheet)}",
        "words": words,
        "states": state_words(states.words if states else ()),
    }
    page = _environment().get_template("page.html")
    return page.render(
        sheet=sheet,
        words=words,
        style=style,
        script=script,
        policy=_policy(style, script),
        page=_as_json(known),
        states=_as_json(state_tables(states)) if states else "",
        has_terminals=bool(states and states.terminals),
        not_shown=states.not_shown if states else (),
    )


def _content(sheet: Sheet) -> str:
    """A digest of the steps: what is ticked on one plan is not ticked on another."""
    blocks = (block for section in sheet.sections for block in section.blocks if isinstance(block, Listing))
    steps = {
        (item.tick, item.body.text)
        for block in blocks
        for item in block.items
        if item.tick and not item.tick.startswith("#")
    }
    return hashlib.sha256(json.dumps(sorted(steps)).encode()).hexdigest()[:16]


def _policy(style: str, script: str) -> str:
    """What the page may do: run and look as it does, and nothing else."""
    return (
        f"default-src 'none'; script-src '{_digest(script)}'; style-src '{_digest(style)}'; "
        "base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode("ascii")


def _as_json(data: Any) -> str:
    """Data that ends no script: what could is written as an escape."""
    text = json.dumps(data, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


@cache
def _own(name: str) -> str:
    return (_HERE / name).read_text(encoding="utf-8")


@cache
def _environment() -> "Environment":
    # Only who writes a page pays for the library.
    from jinja2 import Environment, FileSystemLoader, StrictUndefined  # noqa: PLC0415
    from markupsafe import Markup  # noqa: PLC0415

    environment = Environment(
        loader=FileSystemLoader(_HERE),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=lambda value: shown(value) if type(value) is str else value,
    )
    environment.filters["own"] = Markup  # our own style, script, data and drawings, never what a file holds
    environment.filters["drawn"] = drawn
    environment.filters["kind"] = _kind
    environment.filters["step_number"] = _step_number
    return environment


def _kind(block: Block) -> str:
    """Which part of the page's pattern writes a block."""
    kinds: dict[type[Block], str] = {
        Paragraph: "paragraph",
        Table: "table",
        Drawing: "drawing",
        Figure: "figure",
        Listing: "listing",
    }
    return kinds[type(block)]


def _step_number(item: Item) -> str:
    """The number of the step that an entry is; empty if it is none."""
    number = item.sign.text.removesuffix(".")
    return number if number.isdecimal() and not item.tick.startswith("#") else ""
