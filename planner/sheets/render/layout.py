"""Lays a sheet out in lines of a given width; the same lines are printed with and without colour.

Headings and tables are ruled in plain ASCII; what a sheet draws itself is put into the characters that the
output has when it is printed.
"""

from collections.abc import Iterator, Sequence
from textwrap import wrap

from planner.messages import tr
from planner.sheets.render.shown import shown
from planner.sheets.sheet import Block, Cell, Drawing, Figure, Listing, Paragraph, Section, Sheet, Table

Line = tuple[Cell, ...]
GAP = 2  # between the columns of a table
INDENT = 2  # of what stands under a heading
_NARROWEST = 4
WRITE_IN = "_" * 16


def lay_out(sheet: Sheet, width: int) -> list[Line]:
    """The lines of a sheet."""
    titles = _wrapped(sheet.title, width)
    lines: list[Line] = [(Cell(text, "strong"),) for text in titles]
    lines.append((Cell("=" * max(len(text) for text in titles)),))
    for section in sheet.sections:
        lines.append(())
        lines += _section(section, width)
    return lines


def _section(section: Section, width: int) -> Iterator[Line]:
    indent = INDENT if section.heading else 0
    if section.heading:
        for text in _wrapped(section.heading, width):
            yield (Cell(text, "strong"),)
        yield (Cell("-" * min(width, len(section.heading)), "quiet"),)
    for number, block in enumerate(section.blocks):
        if number:
            yield ()
        margin = (Cell(" " * indent),) if indent else ()
        for line in _block(block, width - indent):
            yield (*margin, *line) if line else ()


def _block(block: Block, width: int) -> Iterator[Line]:
    if isinstance(block, Paragraph):
        return _paragraph(block, width)
    if isinstance(block, Table):
        return _table(block, width)
    if isinstance(block, Drawing):
        return iter([(Cell(shown(line)),) for line in block.lines])
    if isinstance(block, Figure):
        title, words = block.picture.title, block.picture.words
        return _paragraph(
            Paragraph((Cell(tr("Picture: {title}.", title=title), "quiet"), Cell(words))), width
        )
    return _listing(block, width)


def _paragraph(block: Paragraph, width: int) -> Iterator[Line]:
    """Wrap runs of words as one text, each word keeping the meaning of its run."""
    line: list[Cell] = []
    used = 0
    for cell in block.cells:
        for word in (part for piece in cell.text.split() for part in _wrapped(piece, width)):
            if line and used + 1 + len(word) > width:
                yield tuple(line)
                line, used = [], 0
            gap = " " if line else ""
            used += len(gap) + len(word)
            if line and line[-1].meaning == cell.meaning:
                line[-1] = Cell(f"{line[-1].text}{gap}{word}", cell.meaning)
            else:
                if gap:
                    line.append(Cell(gap))
                line.append(Cell(word, cell.meaning))
    if line:
        yield tuple(line)


def _table(block: Table, width: int) -> Iterator[Line]:
    columns = range(len(block.headings))
    natural = [
        max(len(block.headings[c]), *(len(row[c].text) for row in block.rows), 1)
        if block.rows
        else len(block.headings[c])
        for c in columns
    ]
    words = [max((len(w) for row in block.rows for w in row[c].text.split()), default=0) for c in columns]
    widths = _shared_out(natural, words, width - GAP * (len(natural) - 1))
    yield from _row([Cell(heading, "quiet") for heading in block.headings], widths)
    yield from _row([Cell("-" * w, "quiet") for w in widths], widths)
    for row in block.rows:
        yield from _row(row, widths)


def _shared_out(natural: Sequence[int], words: Sequence[int], room: int) -> list[int]:
    """Widths that fit: as wide as natural where that is narrow, the rest cut to one common width.

    No word is broken, such as a file's name, unless they take too much room together.
    """
    if sum(natural) <= room:
        return list(natural)
    least = words if sum(max(word, _NARROWEST) for word in words) <= room else [0] * len(words)
    cap = max(natural)
    while cap > _NARROWEST and sum(max(min(n, cap), w) for n, w in zip(natural, least, strict=True)) > room:
        cap -= 1
    widths = [max(min(n, cap), w) for n, w in zip(natural, least, strict=True)]
    for column, wanted in enumerate(natural):
        if widths[column] < wanted and sum(widths) < room:
            widths[column] += 1
    return widths


def _row(cells: Sequence[Cell], widths: Sequence[int]) -> Iterator[Line]:
    columns = [_wrapped(cell.text, w) for cell, w in zip(cells, widths, strict=True)]
    for height in range(max(1, *(len(column) for column in columns))):
        line: list[Cell] = []
        gap = 0
        for cell, column, width in zip(cells, columns, widths, strict=True):
            text = column[height] if height < len(column) else ""
            if text:
                if gap:
                    line.append(Cell(" " * gap))
                line.append(Cell(text, cell.meaning))
                gap = 0
            gap += width - len(text) + GAP
        yield tuple(line)


def _listing(block: Listing, width: int) -> Iterator[Line]:
    indent = max(len(item.marked.text) for item in block.items) + 1
    for item in block.items:
        texts = [(text, item.body.meaning) for text in _wrapped(item.body.text, width - indent)]
        for cell in item.below:
            texts += [(text, cell.meaning) for text in _hanging(cell.text, width - indent)]
        if item.write_in:
            texts += [(text, "plain") for text in _wrapped(f"{item.write_in}: {WRITE_IN}", width - indent)]
        sign: Line = (item.marked, Cell(" " * (indent - len(item.marked.text))))
        for text, meaning in texts:
            yield (*sign, Cell(text, meaning))
            sign = (Cell(" " * indent),)


def _hanging(text: str, width: int) -> list[str]:
    """Like ``_wrapped``; what follows a dash stands under its first word."""
    return wrap(text, width, subsequent_indent="  " * text.startswith("- "), break_on_hyphens=False)


def _wrapped(text: str, width: int) -> list[str]:
    return wrap(text, width, break_on_hyphens=False)
