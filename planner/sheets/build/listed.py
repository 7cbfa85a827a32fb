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


def number_words(numbers: Sequence[int]) -> str:
    """Numbers with runs put together: ``2 to 5, 9``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)
