"""Where the terminals of a part sit on its face, seen from its wiring side."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.model.part import Part


@dataclass(frozen=True, slots=True)
class Face:
    """A grid of terminals, counted from 0, and those of which nobody knows where they sit."""

    columns: int
    rows: int
    marks: Mapping[tuple[int, int], str]
    beside: tuple[str, ...]


def face_of(part: Part) -> Face:
    """The face of a part, as small as its terminals allow; without columns where no place is known."""
    wired = {mark: terminal.face for mark, terminal in part.terminals.items() if terminal.by == "wire"}
    placed = {at: mark for mark, at in wired.items() if at is not None}
    beside = tuple(mark for mark in wired if mark not in placed.values())
    if not placed:
        return Face(0, 0, {}, beside)
    columns, rows = zip(*placed, strict=True)
    left, top = min(columns), min(rows)
    marks = {(column - left, row - top): mark for (column, row), mark in placed.items()}
    return Face(max(columns) - left + 1, max(rows) - top + 1, marks, beside)
