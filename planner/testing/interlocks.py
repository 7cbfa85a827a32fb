"""What keeps an engine from being cranked, tried once a work touched it: it must not crank in gear."""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from planner.currents.checks.inspection import Inspection
from planner.model.bench_sheet import Interlock
from planner.model.loom import Loom
from planner.testing.starting import Starter, starters

IGNITION = "ignition"  # turns the key, which is what is tried
_ENGINE = "engine"  # nobody cranks one that runs


def interlocks(seen: Inspection, worked_on: AbstractSet[str]) -> Iterator[Interlock]:
    """Yield each starter that is let through by more than the key, if the work is on its way.

    ``worked_on`` are the places of parts that were exchanged.
    """
    for starter in starters(seen):
        hindering = hindrances(seen.loom, starter)
        if hindering and not worked_on.isdisjoint(starter.places):
            yield Interlock(seen.loom.place_title(starter.place), starter.when, hindering)


def hindrances(loom: Loom, starter: Starter) -> tuple[str, ...]:
    """The conditions of the vehicle that keep a starter dead, by name."""
    return tuple(n for n in starter.controls if n in loom.conditions and n not in (IGNITION, _ENGINE))
