"""Fuses: what they carry against what they carry for good, by what the amps printed on them mean."""

from collections.abc import Iterator
from functools import partial

from planner.currents.carried import SAME, Peak
from planner.currents.checks.inspection import Inspection
from planner.model.strain import Strain

_UNSEEN = "; what else hangs on it is not seen"


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield what comes nearest to blowing each fuse: for good, or while something is held."""
    for index in seen.fuses:
        peak = worst_peak(seen, index)
        if peak is not None and peak.amps >= 0.01:
            yield from seen.once(("fuse", index), (peak,), partial(_heated, seen, index, peak))


def worst_peak(seen: Inspection, index: int) -> Peak | None:
    """The most that a fuse carries for good, or for a moment where that is nearer its limit."""
    lasting, held = seen.peaks.get(index), _held_peak(seen, index)
    if lasting is None or held is None or lasting.momentary:
        return lasting
    limits = (allowed_amps(seen, index, peak) for peak in (lasting, held))
    for_good, for_a_moment = (p.amps / limit for p, limit in zip((lasting, held), limits, strict=True))
    return held if for_a_moment > for_good else lasting


def allowed_amps(seen: Inspection, index: int, peak: Peak) -> float:
    """What a fuse is to carry; what is held heats it for a moment, up to the amps printed on it."""
    _, element = seen.fuses[index]
    if peak.momentary:
        return element.amps
    return seen.standards.fuse_carries_amps(element.amps, element.marked).value


def _held_peak(seen: Inspection, index: int) -> Peak | None:
    """The first position of those with something held in which a fuse carries most."""
    most: Peak | None = None
    for sample in seen.survey.carried.at(index):
        amps = abs(sample.amps.by_branch[index])
        if sample.held and (most is None or amps > most.amps + SAME):
            most = Peak(amps, sample, momentary=True)
    return most


def _heated(seen: Inspection, index: int, peak: Peak) -> Iterator[Strain]:
    at, element = seen.fuses[index]
    limit = seen.standards.fuse_carries_amps(element.amps, element.marked)
    allowed = allowed_amps(seen, index, peak)
    loads = seen.loads_in(index, peak.sample)
    yield Strain(
        "fuse", at, peak.amps, allowed, "A", limit.source, limit.basis,
        peak.sample.told, loads,
        path=seen.way(loads, peak.sample) if peak.amps > allowed else (),
        note=f"marked {element.amps:g} A, {element.marked}{_UNSEEN if at in seen.loom.feeds else ''}",
        momentary=peak.momentary,
    )  # fmt: skip
