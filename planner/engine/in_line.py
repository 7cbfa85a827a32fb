"""What is in line in a conductor, and the ends that belong together when it comes out."""

from collections.abc import Callable

from planner.engine.case import Case
from planner.model.loom import split_address
from planner.model.need import LooseEnd
from planner.model.part import Part

Pair = tuple[str, str]
OldEnd = tuple[str, int, str]  # wire, end, the address it was on


def ends_of_what_was_in_line(
    case: Case, need: LooseEnd, in_line: Callable[[Part], list[Pair]]
) -> tuple[Pair, tuple[OldEnd, ...]] | None:
    """The two terminals that a part was in line between, and the freed ends of both.

    None where the part now is in line as well, has a terminal of the end's role, or one side has no end.
    """
    place, mark = split_address(need.was)
    old, new = case.old_part(place), case.part(place)
    pair = next((p for p in in_line(old) if mark in p), None) if old else None
    if old is None or pair is None:
        return None
    role = old.terminals[mark].role
    if new is not None and (in_line(new) or (role and role in {t.role for t in new.terminals.values()})):
        return None
    ends = tuple(end for end in case.freed_ends(place) if split_address(end[2])[1] in pair)
    return (pair, ends) if len({was for _, _, was in ends}) == len(pair) else None
