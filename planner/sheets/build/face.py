"""A part's face sketched from its wiring side: a box for each terminal, where it sits."""

from planner.model.face import face_of
from planner.model.part import Part
from planner.sheets.sheet import Block, Drawing, say

WIDEST_FACE = 74  # of 80 columns, indented
_LEAST_CELL = 5


def face_sketch(part: Part) -> tuple[Block, ...]:
    """The sketch; a plain list of marks where nobody has said where they sit, or the face is too wide."""
    face = face_of(part)
    width = max((len(mark) + 2 for mark in face.marks.values()), default=0)
    width = max(_LEAST_CELL, width)
    if not face.marks or face.columns * (width + 1) + 1 > WIDEST_FACE:
        names = ", ".join(mark for mark, t in part.terminals.items() if t.by == "wire")
        return (say(f"Terminals, in no order (where they sit is not known): {names}"),)
    lines = [_rule("┌┬┐", face.columns, width)]
    for row in range(face.rows):
        if row:
            lines.append(_rule("├┼┤", face.columns, width))
        cells = (face.marks.get((column, row), "").center(width) for column in range(face.columns))
        lines.append(f"│{'│'.join(cells)}│")
    lines.append(_rule("└┴┘", face.columns, width))
    below = (say(f"Beside them: {', '.join(face.beside)}"),) if face.beside else ()
    return (Drawing((*lines, "seen from the wiring side")), *below)


def _rule(corners: str, count: int, width: int) -> str:
    return f"{corners[0]}{corners[1].join('─' * width for _ in range(count))}{corners[2]}"
