"""What of starting and running the engine a work touched: only the engine shows whether that is right."""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from planner.currents.checks.inspection import Inspection
from planner.model.bench_sheet import CrankTrial, EngineTrial
from planner.model.breaker_points import timed_places
from planner.proof.facts import place_titles
from planner.testing.interlocks import hindrances
from planner.testing.meter import IGNITION as IGNITION_PARTS
from planner.testing.starting import places_feeding, starters


def engine_trial(seen: Inspection, worked_on: AbstractSet[str]) -> EngineTrial | None:
    """What is tried; None where the work touched neither the starter's way nor the ignition.

    ``worked_on`` are the places of parts that were exchanged.
    """
    loom, parts = seen.loom, seen.catalogue.parts
    cranked = tuple(_cranked(seen, worked_on))
    sparks = any(
        parts[loom.places[place].part].family == IGNITION_PARTS
        and not worked_on.isdisjoint({place, *places_feeding(seen, (place, does))})
        for place, does in seen.survey.alone
        if place in loom.places
    )
    if not cranked and not sparks:
        return None
    timed = [place for place in timed_places(loom, parts) if place in worked_on]
    return EngineTrial(cranked, sparks, tuple(loom.place_title(place) for place in timed))


def _cranked(seen: Inspection, worked_on: AbstractSet[str]) -> Iterator[CrankTrial]:
    """Yield each starter on whose way the work is, when it cranks, and the controls that have a say in it."""
    loom = seen.loom
    titles = place_titles(loom, seen.survey.positions.view.net)
    for starter in starters(seen):
        if not hindrances(loom, starter) and not worked_on.isdisjoint(starter.places):
            controls = tuple(titles[name] for name in starter.controls)
            yield CrankTrial(loom.place_title(starter.place), starter.when, controls, starter.is_all)
