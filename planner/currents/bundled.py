"""Which positions of a bundle to look at: each of its wires at its most, and the others as full as they go.

What a wire carries for good depends on how many lie loaded beside it, so that its own current alone does not
tell its worst position.
"""

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from planner.currents.meetings import Meetings
from planner.currents.seek import Want, Wanted
from planner.currents.sums import Scope, Sums, added

FIRST = 1000.0  # how much more an ampere of the wire that is asked about counts than one of its neighbours


def fullest(meetings: Meetings, numbers: Sequence[int]) -> Iterator[Wanted]:
    """Yield what to look for in a bundle of some meetings: all of it, and each of them before the others."""
    if len(numbers) < 2:
        return  # one current in all its wires, if any
    crowds = [meetings.crowd(number) for number in numbers]
    groups = sorted({group for crowd in crowds for group in crowd})
    for first in (None, *numbers):
        factors = [FIRST if number == first else 1.0 for number in numbers]
        yield {
            group: _together(
                [(f, crowd[group]) for f, crowd in zip(factors, crowds, strict=True) if group in crowd]
            )
            for group in groups
        }


def _together(wants: Sequence[tuple[float, Want]]) -> Want:
    """Several sums at once, each times a factor."""
    name = ("bundle", *((factor, name) for factor, (name, _) in wants))
    return name, partial(_weighed, [(factor, sums) for factor, (_, sums) in wants])


def _weighed(wants: Sequence[tuple[float, Callable[[], Sums]]]) -> Sums:
    weighed: dict[Scope, list[float]] = {}
    for factor, sums in wants:
        for scope, amps in sums().items():
            own = [factor * each for each in amps]
            weighed[scope] = added(weighed[scope], own) if scope in weighed else own
    return weighed
