"""Writes a sheet as Markdown; whatever names and notes hold is shown as text."""

import re
from collections.abc import Iterator

from planner.messages import tr
from planner.sheets.render.layout import WRITE_IN
from planner.sheets.render.shown import shown
from planner.sheets.sheet import Block, Cell, Drawing, Figure, Item, Paragraph, Section, Sheet, Table

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#|~&$])")
_NUMBER = re.compile(r"^(\d+)([.)])")


def as_markdown(sheet: Sheet) -> str:
    """The text of a sheet."""
    parts = [f"# {_text(sheet.title)}"]
    for section in sheet.sections:
        parts += _section(section)
    return "\n\n".join(parts) + "\n"


def _section(section: Section) -> Iterator[str]:
    if section.heading:
        yield f"## {_text(section.heading)}"
    for block in section.blocks:
        yield _block(block)


def _block(block: Block) -> str:
    if isinstance(block, Paragraph):
        return " ".join(_cell(cell) for cell in block.cells)
    if isinstance(block, Table):
        rows = [[_text(heading) for heading in block.headings], ["---"] * len(block.headings)]
        rows += [[_cell(cell) for cell in row] for row in block.rows]
        return "\n".join(f"| {' | '.join(row)} |" for row in rows)
    if isinstance(block, Figure):
        return f"{_text(tr('Picture: {title}.', title=block.picture.title))} {_text(block.picture.words)}"
    if isinstance(block, Drawing):
        return "\n".join(("```text", *(shown(line) for line in block.lines), "```"))
    return "\n".join(line for item in block.items for line in _item(item))


def _item(item: Item) -> Iterator[str]:
    """Yield an entry of a list, what belongs to it indented below; a tick box stays one."""
    box = ("[x]" if item.is_ticked else "[ ]") if item.tick else ""
    rest = item.sign.text.removesuffix("-")
    words = [word for word in (box, f"**{_text(rest)}**" if rest else "", _cell(item.body)) if word]
    yield f"- {' '.join(words)}"
    for cell in item.below:
        yield f"  - {_cell(cell)}"
    if item.write_in:
        yield f"  - {_text(f'{item.write_in}: {WRITE_IN}')}"


def _cell(cell: Cell) -> str:
    text = _text(cell.text)
    return f"**{text}**" if cell.meaning in ("strong", "bad", "warn") and text else text


def _text(text: str) -> str:
    """Text in one line in which nothing is taken for markup."""
    plain = _SPECIAL.sub(r"\\\1", shown(text)).strip()
    return _NUMBER.sub(r"\1\\\2", re.sub(r"^([-+])", r"\\\1", plain))
