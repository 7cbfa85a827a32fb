"""Which terminals of a part a person's marks may mean: proposed in words, never taken for granted."""

from collections.abc import Mapping, Sequence

from planner.model.part import Part, Role
from planner.model.search import words_of
from planner.reading.yaml_text import scalar_text

# The posts of a battery in words; these can mean nothing else.
POLES: Mapping[str, str] = {
    **dict.fromkeys(("neg", "negative", "minus"), "-"),
    **dict.fromkeys(("pos", "positive", "plus"), "+"),
}
OPEN = "CHOOSE"  # stands where only the person knows, and is no terminal's mark


def purpose_of(part: Part, mark: str, roles: Mapping[str, Role]) -> str:
    """What a terminal is for in a few words, in brackets; nothing where that is not known."""
    role = roles.get(part.terminals[mark].role or "")
    return f" ({role.words[0] if role.words else role.meaning})" if role else ""


def likely_marks(said: Sequence[str], part: Part, roles: Mapping[str, Role]) -> dict[str, str]:
    """For each mark that people use at a part the one terminal whose purpose begins so, else ``CHOOSE``.

    If one mark and one terminal are left over, they are taken to belong together.
    """
    terminals = {m: t for m, t in part.terminals.items() if t.by == "wire"}
    purposes = {m: words_of(*roles[t.role or ""].words) for m, t in terminals.items() if t.role in roles}
    likely: dict[str, str] = {}
    for mark in said:
        found = [m for m, words in purposes.items() if any(w.startswith(mark.casefold()) for w in words)]
        if len(found) == 1 and found[0] not in likely.values():
            likely[mark] = found[0]
    marks_left = [mark for mark in said if mark not in likely]
    left = [m for m in terminals if m not in likely.values()]
    if len(marks_left) == len(left) == 1:
        likely[marks_left[0]] = left[0]
    return {mark: likely.get(mark, OPEN) for mark in said}


def as_marks(likely: Mapping[str, str]) -> str:
    """The line of a loom's place that says which mark is which terminal."""
    return f"marks: {{{', '.join(f'{scalar_text(k)}: {scalar_text(v)}' for k, v in likely.items())}}}"
