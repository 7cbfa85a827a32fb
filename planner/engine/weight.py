"""How heavy the faults of a loom weigh: class by class, and in the order of severity."""

from collections.abc import Iterable
from typing import NamedTuple

from planner.model.elements import ROAD_DUTIES
from planner.model.need import Fault
from planner.model.strain import DANGEROUS

DEAD = 0.45  # what a dead position weighs of a loss: always less than one, for there nothing worked before


class Weight(NamedTuple):
    """What is wrong with a loom and the minutes it takes; of two the lesser is better, number by number."""

    unsafe: float = 0.0
    road_unintended: float = 0.0  # of lamps that the road asks for, as the two that follow
    road_lost: float = 0.0
    road_changed: float = 0.0
    unintended: float = 0.0
    lost: float = 0.0
    changed: float = 0.0
    unused: float = 0.0  # what a new part could do besides
    wearing: float = 0.0
    minutes: float = 0.0

    @property
    def danger(self) -> tuple[float, ...]:
        """What nobody trades for anything: what is unsafe, and signals that nobody gave."""
        return self[:2]

    @property
    def losses(self) -> tuple[float, ...]:
        """What is wrong in use: without what only wears and what a new part could do besides."""
        return self[:-3]

    @property
    def faults(self) -> tuple[float, ...]:
        """All that is wrong, whatever the work."""
        return self[:-1]


def weigh(faults: Iterable[Fault], minutes: float = 0.0) -> Weight:
    """The weight of some faults and of the minutes at the bench.

    Within a class the share of positions counts, so that a repair of half the positions is an improvement.
    Accepted losses do not count.
    """
    weight = dict.fromkeys(Weight._fields, 0.0)
    for fault in faults:
        if not fault.accepted:
            weight[_class_of(fault)] += (1.0 + fault.share) * (DEAD if _is_dead_position(fault) else 1.0)
    weight["minutes"] = minutes
    return Weight(*(round(each, 9) for each in weight.values()))


def _class_of(fault: Fault) -> str:
    """The class of a fault.

    A strain that can burn something is unsafe; one that only wears or dims comes after everything else; what
    turns or reads backwards does what nobody wants; a battery that is no longer charged loses the road lamps;
    any other is a change. What a new part could do besides is no loss, but worth more than a drop of volts.
    """
    strain = fault.strain
    if fault.kind == "hazard" and not _is_dead_position(fault):
        return "unsafe"
    if strain is not None and strain.kind in DANGEROUS:
        return "unsafe"
    if strain is not None and strain.is_wearing:
        return "wearing"
    if fault.kind == "unused":
        return "unused"
    if strain is not None and strain.kind == "not-charging":
        return "road_lost"  # the battery runs flat, and with it every lamp on the road
    on_road = "road_" if fault.duty in ROAD_DUTIES else ""
    if fault.kind == "unintended" or (strain is not None and strain.kind == "reversed"):
        return f"{on_road}unintended"
    return f"{on_road}changed" if fault.kind in ("changed", "strain") else f"{on_road}lost"


def _is_dead_position(fault: Fault) -> bool:
    return fault.hazard == "dead-position"
