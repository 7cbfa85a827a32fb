"""The contact table of a part drawn in box characters: a row a position, a column a terminal.

What is joined in a position is a line with a dot at each terminal that it joins; it passes over the others.
A terminal that nothing joins there has a small dot.
"""

from collections.abc import Iterable, Sequence
from textwrap import wrap

from planner.model.part import Part
from planner.sheets.build.contact_rows import ContactRows, position_words
from planner.sheets.sheet import Drawing

WIDEST = 78  # of 80 columns, indented
JOINED, APART, LINE = "●", "·", "─"
GAP = 2  # from the end of a mark to the next one
LEAST_COLUMN = 4
NARROW_COLUMN = 3  # where the marks are written downwards
LEAST_LABEL = 6
ALWAYS = "always"


def draw_contacts(part: Part, table: ContactRows) -> Drawing:
    """One table of a part; marks are written downwards where they do not fit side by side."""
    joined = {node for _, groups in table.rows for group in groups for node in group}
    nodes = [node for node in (*part.terminals, *part.nodes) if node in joined]
    headings = [name.capitalize() for name in table.variables] or [""]
    rows = [
        [position_words(part, name, value) for name, value in zip(table.variables, values, strict=True)]
        or [ALWAYS]
        for values, _ in table.rows
    ]
    starts, marks = _across(nodes)
    if len(headings) * (LEAST_LABEL + 3) + len(marks[0]) + 4 > WIDEST:
        starts, marks = _downwards(nodes)
    widths = _widths([headings, *rows], WIDEST - len(marks[0]) - 4)
    lines = [_rule("┌┬┐", widths, len(marks[0])), *_row(headings, widths, marks)]
    lines.append(_rule("├┼┤", widths, len(marks[0])))
    for labels, (_, groups) in zip(rows, table.rows, strict=True):
        drawn = _joints([[nodes.index(node) for node in group] for group in groups], starts, len(marks[0]))
        lines += _row(labels, widths, drawn)
    return Drawing((*lines, _rule("└┴┘", widths, len(marks[0]))))


def _across(nodes: Sequence[str]) -> tuple[list[int], list[str]]:
    """Where each column starts, and the marks in one line."""
    starts, line = [], ""
    for node in nodes:
        starts.append(len(line))
        line += node.ljust(max(LEAST_COLUMN, len(node)) + GAP - 1)
    return starts, [line.rstrip() if nodes else " "]


def _downwards(nodes: Sequence[str]) -> tuple[list[int], list[str]]:
    """Where each column starts, and the marks letter under letter."""
    height = max(len(node) for node in nodes)
    lines = ["".join(node.ljust(height)[row].ljust(NARROW_COLUMN) for node in nodes) for row in range(height)]
    return [NARROW_COLUMN * column for column in range(len(nodes))], lines


def _widths(rows: Sequence[Sequence[str]], room: int) -> list[int]:
    """The widths of the labels: as wide as they need, or an equal share of the room."""
    natural = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    share = max(LEAST_LABEL, room // len(natural) - 3)
    return natural if sum(natural) + 3 * len(natural) <= room else [min(wide, share) for wide in natural]


def _joints(groups: Sequence[Sequence[int]], starts: Sequence[int], width: int) -> list[str]:
    """Lines that join columns; groups that lie beside one another share a line."""
    used = {column for group in groups for column in group}
    lines = [_line(width, (start for column, start in enumerate(starts) if column not in used))]
    ends = [-1]  # the last column used in each line
    for group in sorted(groups, key=min):
        first, last = min(group), max(group)
        number = next((n for n, end in enumerate(ends) if end < first), len(lines))
        if number == len(lines):
            lines.append(_line(width))
            ends.append(last)
        line, ends[number] = lines[number], last
        line[starts[first] : starts[last]] = LINE * (starts[last] - starts[first])
        for column in group:
            line[starts[column]] = JOINED
    return ["".join(line) for line in lines]


def _line(width: int, apart: Iterable[int] = ()) -> list[str]:
    """A line with a small dot at each column that nothing joins."""
    places = set(apart)
    return [APART if place in places else " " for place in range(width)]


def _row(labels: Sequence[str], widths: Sequence[int], drawn: Sequence[str]) -> list[str]:
    """A row: its labels wrapped, and beside them what is drawn."""
    columns = [wrap(label, width) or [""] for label, width in zip(labels, widths, strict=True)]
    height = max(len(drawn), *(len(column) for column in columns))
    wide = len(drawn[0])
    lines = []
    for number in range(height):
        cells = [
            (column[number] if number < len(column) else "").ljust(width)
            for column, width in zip(columns, widths, strict=True)
        ]
        beside = drawn[number] if number < len(drawn) else ""
        lines.append(f"│ {' │ '.join([*cells, beside.ljust(wide)])} │")
    return lines


def _rule(corners: str, widths: Sequence[int], wide: int) -> str:
    return f"{corners[0]}{corners[1].join(LINE * (width + 2) for width in (*widths, wide))}{corners[2]}"
