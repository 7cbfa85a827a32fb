"""What of starting and running the engine a work touched: only the engine shows whether that is right."""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from planner.currents.checks.inspection import Inspection
from planner.model.bench_sheet import EngineTrial
from planner.model.breaker_points import timed_places
from planner.model.facts import Facts
from planner.proof.facts import place_titles
from planner.testing.interlocks import IGNITION, places_feeding, starter_controls
from planner.testing.meter import IGNITION as IGNITION_PARTS


def engine_trial(seen: Inspection, facts: Facts, worked_on: AbstractSet[str]) -> EngineTrial | None:
    """What is tried; None where the work touched neither the starter's way nor the ignition.

    ``facts`` are those of the loom when all is done, ``worked_on`` the places of parts that were exchanged.
    """
    loom, parts = seen.loom, seen.catalogue.parts
    cranked = tuple(_cranked(seen, facts, worked_on))
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


def _cranked(
    seen: Inspection, facts: Facts, worked_on: AbstractSet[str]
) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Yield each starter on whose way the work is, when it cranks, and the controls that have a say in it."""
    loom = seen.loom
    titles = place_titles(loom, seen.survey.positions.view.net)
    for place, fitted in loom.places.items():
        for mark, index in starter_controls(seen.catalogue.parts[fitted.part]):
            fact = facts.at(f"{place}:{mark}")
            hindered = any(name in loom.conditions and name != IGNITION for name in fact.depends_on)
            if (
                fact.when
                and not hindered
                and not worked_on.isdisjoint(places_feeding(seen, (place, f"#{index}")))
            ):
                yield loom.place_title(place), fact.when, tuple(titles[name] for name in fact.depends_on)
