"""A sentence that ends with a list: a short one stays in it, of a long one each entry has its own line."""

from collections.abc import Sequence

from planner.sheets.sheet import Cell

MOST_IN_A_SENTENCE = 3


def listed(text: str, entries: Sequence[str], between: str = ", ") -> tuple[str, tuple[Cell, ...]]:
    """The sentence, and the lines below it; ``text`` ends with the entries."""
    end = between.join(entries)
    if len(entries) <= MOST_IN_A_SENTENCE or not text.endswith(end):
        return text, ()
    return text.removesuffix(end).rstrip(), tuple(Cell(f"- {entry}") for entry in entries)
