"""What keeps an engine from being cranked, tried once a work touched it: it must not crank in gear."""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from planner.circuit.fitted import LoadKey
from planner.currents.checks.inspection import Inspection
from planner.model.bench_sheet import Interlock
from planner.model.elements import Coil
from planner.model.facts import Facts
from planner.model.loom import split_address
from planner.model.part import Part

_STARTER_CONTROL = "50"  # DIN 72552
IGNITION = "ignition"  # turns the key, which is what is tried


def interlocks(seen: Inspection, facts: Facts, worked_on: AbstractSet[str]) -> Iterator[Interlock]:
    """Yield each starter that is let through by more than the key, if the work is on its way.

    ``facts`` are those of the loom when all is done, ``worked_on`` the places of parts that were exchanged.
    """
    loom = seen.loom
    for place, fitted in loom.places.items():
        for mark, index in starter_controls(seen.catalogue.parts[fitted.part]):
            fact = facts.at(f"{place}:{mark}")
            hindering = [n for n in fact.depends_on if n in loom.conditions and n != IGNITION]
            if hindering and not worked_on.isdisjoint(places_feeding(seen, (place, f"#{index}"))):
                yield Interlock(loom.place_title(place), fact.when, tuple(hindering))


def starter_controls(part: Part) -> Iterator[tuple[str, int]]:
    """Yield the terminals that work a starter, each with the number of its coil among the elements."""
    for index, element in enumerate(part.inside):
        if isinstance(element, Coil):
            for node in element.between:
                if node in part.terminals and part.terminals[node].role == _STARTER_CONTROL:
                    yield node, index


def places_feeding(seen: Inspection, key: LoadKey) -> set[str]:
    """The places through which a load or a coil is fed, its own among them."""
    found = {key[0]}
    for sample in seen.survey.alone.get(key, ()):
        for number in seen.way_to(seen.survey.grid.loads[key], sample):
            branch = seen.survey.grid.branches[number].branch
            found |= {split_address(node)[0] for node in (branch.a, branch.b)}
    return found
