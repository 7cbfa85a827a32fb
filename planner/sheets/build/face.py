"""A part's face sketched from its wiring side: a box for each terminal, where it sits."""

from planner.model.part import Part
from planner.sheets.sheet import Block, Drawing, say

WIDEST_FACE = 74  # of 80 columns, indented
_LEAST_CELL = 5


def face_sketch(part: Part) -> tuple[Block, ...]:
    """The sketch; a plain list of marks where nobody has said where they sit, or the face is too wide."""
    marks = {t.face: mark for mark, t in part.terminals.items() if t.face and t.by == "wire"}
    rest = [mark for mark, t in part.terminals.items() if not t.face and t.by == "wire"]
    width = max(_LEAST_CELL, *(len(mark) + 2 for mark in marks.values())) if marks else 0
    columns = sorted({column for column, _ in marks})
    if not marks or len(columns) * (width + 1) + 1 > WIDEST_FACE:
        names = ", ".join(mark for mark, t in part.terminals.items() if t.by == "wire")
        return (say(f"Terminals, in no order (where they sit is not known): {names}"),)
    columns = list(range(columns[0], columns[-1] + 1))
    rows = sorted({row for _, row in marks})
    lines = [_rule("┌┬┐", len(columns), width)]
    for number, row in enumerate(range(rows[0], rows[-1] + 1)):
        if number:
            lines.append(_rule("├┼┤", len(columns), width))
        cells = (marks.get((column, row), "").center(width) for column in columns)
        lines.append(f"│{'│'.join(cells)}│")
    lines.append(_rule("└┴┘", len(columns), width))
    below = (say(f"Beside them: {', '.join(rest)}"),) if rest else ()
    return (Drawing((*lines, "seen from the wiring side")), *below)


def _rule(corners: str, count: int, width: int) -> str:
    return f"{corners[0]}{corners[1].join('─' * width for _ in range(count))}{corners[2]}"
