"""What each operation costs in minutes at the bench: common practice, no source.

The figures only have to rank remedies as a restorer would. A job may set its own by the operation's
word (``minutes: {piggyback: 2}``); a part may say how long it takes to fit.
"""

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from planner.model.catalogue import Catalogue
from planner.model.delta import Add, Fit, Insert, Make, Operation, Renew
from planner.model.joiners import length_with_joiners
from planner.model.loom import Loom
from planner.model.routes import wire_length

MINUTES: Mapping[str, float] = MappingProxyType(
    {
        "fit": 10.0,  # used where the part does not say
        "remove": 5.0,
        "move": 1.0,
        "add": 6.0,  # cut, strip, two terminals, tug test
        "make": 0.0,
        "cover": 1.5,  # sleeve, fold back, tag
        "cut": 5.0,  # the terminal off, both legs stripped and crimped in a joiner
        "piggyback": 2.0,
        "join": 4.0,
        "re-end": 3.0,
        "extend": 7.0,
        "insert": 12.0,
        "hold": 0.5,
        "renew": 9.0,  # as a new wire, and the old one drawn out or tied back
        "fuse": 1.0,
        "supply": 5.0,  # the battery off and on again, a tag beside it
    }
)
MINUTES_A_METRE = 4.0  # threading and clipping
MINUTES_BEHIND_TRIM = 25.0  # trim off and on again, draw cord
MINUTES_FROM_STOCK = -4.0  # a finished lead needs no crimping


def minutes(
    operations: Iterable[Operation], before: Loom, loom: Loom, catalogue: Catalogue, own: Mapping[str, float]
) -> float:
    """Bench minutes of some operations in a loom, and what it was before any of them."""
    return sum(_one(operation, before, loom, catalogue, own) for operation in operations)


def _one(
    operation: Operation, before: Loom, loom: Loom, catalogue: Catalogue, own: Mapping[str, float]
) -> float:
    base = own.get(operation.do, MINUTES[operation.do])
    if isinstance(operation, Fit | Insert):
        part = catalogue.parts.get(operation.place.part)
        if isinstance(operation, Fit) and part and "fit" not in own:
            return part.minutes
        return base
    if isinstance(operation, Add):
        first, last = operation.wire.ends[0].at, operation.wire.ends[1].at
        metres, trim = length_with_joiners(before, loom, first, last)
        return base + MINUTES_A_METRE * metres + (MINUTES_BEHIND_TRIM if trim else 0.0)
    if isinstance(operation, Renew):
        wire = loom.find(operation.wire)
        legs = range(operation.first, operation.last)
        metres = sum(wire.leg_metres(leg) for leg in legs)  # the old wire tells them better than a route
        trim = any(wire_length(loom, wire.ends[n].at, wire.ends[n + 1].at)[1] for n in legs)
        return base + MINUTES_A_METRE * metres + (MINUTES_BEHIND_TRIM if trim else 0.0)
    if isinstance(operation, Make) and operation.lead is not None:
        return base + MINUTES_FROM_STOCK
    return base
