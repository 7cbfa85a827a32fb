"""What may stand beside a plan: itself without its last repair, offers, and fair trades."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.engine.judged import Judged
from planner.model.delta import Reason
from planner.model.elements import ROAD_DUTIES
from planner.model.job import Job

TRADES = ("less work", "another loss instead")
WITHOUT_REPAIR = "without the last repair"


@dataclass(frozen=True)
class Alternative:
    """A plan that is shown beside the chosen one."""

    title: str
    judged: Judged
    why: Reason
    job: Job | None = None  # if it answers another job, such as keeping an old part
    gives_up: str = ""  # what no load shows, such as a safety that is gone


def suggestions(
    best: Judged, judged: Sequence[Judged], offers: Sequence[Alternative]
) -> Iterator[Alternative]:
    """Yield what may be shown beside a plan, by its wiring alone."""
    brought = {f.identity for f in best.faults}
    if best.parent and brought - {f.identity for f in best.parent.faults}:
        why = Reason("choice", ("the repair brings a fault of its own",))
        yield Alternative(WITHOUT_REPAIR, best.parent, why)
    yield from (a for a in offers if is_fair(best, a))
    for other in sorted(judged, key=lambda j: j.weight):
        if trade := _fair_trade(best, other):
            yield Alternative(trade, other, Reason("choice", (trade,)))


def is_fair(best: Judged, alternative: Alternative) -> bool:
    """Whether it may stand beside a plan: no less safe, a trade still one; or what a repair cured."""
    if alternative.title in TRADES:
        return _fair_trade(best, alternative.judged) == alternative.title
    return alternative.title == WITHOUT_REPAIR or alternative.judged.weight.danger <= best.weight.danger


def _fair_trade(best: Judged, other: Judged) -> str:
    """What may be traded: less work with nothing more lost, or another loss of the same class; else "".

    Never less safe, and nothing unintended on a signal lamp.
    """
    kept_out = ("lost", "changed", "unintended", "hazard", "strain")
    worse = {f.identity for f in other.faults if f.kind in kept_out} - {f.identity for f in best.faults}
    if not worse:
        return TRADES[0] if other.weight.minutes < best.weight.minutes else ""
    classes = [sorted((f.kind, f.duty in ROAD_DUTIES) for f in j.faults) for j in (best, other)]
    alike = other.weight.danger <= best.weight.danger and classes[0] == classes[1]
    return TRADES[1] if alike else ""
