"""Which positions of a bundle to look at: each of its wires at its most, and the others as full as they go.

What a wire carries for good depends on how many lie loaded beside it, so that its own current alone does not
tell its worst position.
"""

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from planner.currents.meetings import Meetings
from planner.currents.sums import Scope, Sums, added

FIRST = 1000.0  # how much more an ampere of the wire that is asked about counts than one of its neighbours

Wanted = tuple[object, Callable[[], Sums]]  # a name, equal for equal sums, and what is to be most


def fullest(meetings: Meetings, branches: Sequence[int]) -> Iterator[Wanted]:
    """Yield what to look for in one bundle: all of it, and each of its wires before the others."""
    numbers = meetings.met_in(branches)
    if len(numbers) < 2:
        return  # one current in all its wires, if any
    for first in (None, *numbers):
        yield ("bundle", numbers, first), partial(_weighed, meetings, numbers, first)


def _weighed(meetings: Meetings, numbers: Sequence[int], first: int | None) -> Sums:
    weighed: dict[Scope, list[float]] = {}
    for number in numbers:
        factor = FIRST if number == first else 1.0
        for scope, amps in meetings.sum_of(number).items():
            own = [factor * each for each in amps]
            weighed[scope] = added(weighed[scope], own) if scope in weighed else own
    return weighed
