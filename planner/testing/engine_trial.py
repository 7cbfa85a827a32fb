"""What of starting and running the engine a work touched: only the engine shows whether that is right."""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from planner.currents.checks.inspection import Inspection
from planner.model.bench_sheet import CrankTrial, EngineTrial
from planner.model.breaker_points import timed_places
from planner.model.oil_senders import is_gauge_on_a_switch, shows_oil, sits_in_oil, warns_of_oil
from planner.proof.facts import place_titles
from planner.testing.interlocks import hindrances
from planner.testing.meter import IGNITION as IGNITION_PARTS
from planner.testing.starting import Starter, places_feeding, starters

_LETS_IN = ("50", "50a")  # DIN 72552


def engine_trial(seen: Inspection, worked_on: AbstractSet[str]) -> EngineTrial | None:
    """What is tried; None where the work touched neither the starter's way, nor ignition or oil pressure.

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
    on_it = [place for place in loom.places if place in worked_on]
    oiled = [place for place in on_it if sits_in_oil(parts[loom.places[place].part])]
    shown = [
        place
        for place in loom.places
        if shows_oil(parts[loom.places[place].part]) and (oiled or place in worked_on)
    ]
    if not cranked and not sparks and not shown and not oiled:
        return None
    timed = [place for place in timed_places(loom, parts) if place in worked_on]
    on_switch = [place for place in shown if is_gauge_on_a_switch(loom, parts, place)]
    shown = [place for place in shown if place not in on_switch]
    warned = any(warns_of_oil(parts[place.part]) for place in loom.places.values())
    blind = [] if warned else on_switch
    titles = (tuple(loom.place_title(place) for place in places) for places in (timed, oiled, shown, blind))
    return EngineTrial(cranked, sparks, *titles)


def _cranked(seen: Inspection, worked_on: AbstractSet[str]) -> Iterator[CrankTrial]:
    """Yield each starter on whose way the work is, when it cranks, and the controls that have a say in it."""
    loom = seen.loom
    titles = place_titles(loom, seen.survey.positions.view.net)
    for starter in starters(seen):
        if not hindrances(loom, starter) and not worked_on.isdisjoint(starter.places):
            controls = tuple(titles[name] for name in starter.controls)
            outputs = tuple(_outputs(seen, starter, worked_on))
            yield CrankTrial(loom.place_title(starter.place), starter.when, controls, starter.is_all, outputs)


def _outputs(seen: Inspection, starter: Starter, worked_on: AbstractSet[str]) -> Iterator[str]:
    """Yield the terminals from which an exchanged key or push lets a starter in."""
    for place in sorted({name.rpartition("/")[0] for name in starter.controls} & worked_on):
        for mark, terminal in seen.catalogue.parts[seen.loom.places[place].part].terminals.items():
            if terminal.role in _LETS_IN and seen.loom.ends_at.get(f"{place}:{mark}"):
                yield f"{place}:{mark}"
