"""Which positions of a bundle to look at: each of its wires at its most, and the others as full as they go.

What a wire carries for good depends on how many lie loaded beside it, so that its own current alone does not
tell its worst position.
"""

from collections.abc import Iterator, Sequence
from functools import partial

from planner.currents.meetings import Meetings
from planner.currents.seek import Group, Wanted
from planner.currents.sums import Scope, Sums, added

FIRST = 1000.0  # how much more an ampere of the wire that is asked about counts than one of its neighbours


def fullest(meetings: Meetings, branches: Sequence[int]) -> Iterator[Wanted]:
    """Yield what to look for in one bundle: all of it, and each of its wires before the others."""
    numbers = meetings.met_in(branches)
    if len(numbers) < 2:
        return  # one current in all its wires, if any
    crowds = [meetings.crowd(number) for number in numbers]
    names = tuple(dict.fromkeys(name for crowd in crowds for name, _ in crowd.values()))
    groups = sorted({group for crowd in crowds for group in crowd})
    for first in (None, *numbers):
        yield {
            group: (("bundle", names, first), partial(_weighed, meetings, numbers, first, group))
            for group in groups
        }


def _weighed(meetings: Meetings, numbers: Sequence[int], first: int | None, group: Group) -> Sums:
    weighed: dict[Scope, list[float]] = {}
    (part,) = group
    for number in numbers:
        factor = FIRST if number == first else 1.0
        for scope, amps in meetings.sum_in(number, part).items():
            own = [factor * each for each in amps]
            weighed[scope] = added(weighed[scope], own) if scope in weighed else own
    return weighed
