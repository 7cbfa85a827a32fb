"""Fuses: what they carry against what they carry for good, by what the amps printed on them mean."""

from collections.abc import Iterator
from functools import partial

from planner.currents.carried import Peak
from planner.currents.checks.inspection import Inspection
from planner.model.strain import Strain

_UNSEEN = "; what else hangs on it is not seen"


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield the most that each fuse carries for longer than a moment."""
    for index in seen.fuses:
        peak = seen.peaks.get(index)
        if peak is not None and peak.amps >= 0.01:
            yield from seen.once(("fuse", index), (peak,), partial(_heated, seen, index, peak))


def _heated(seen: Inspection, index: int, peak: Peak) -> Iterator[Strain]:
    at, element = seen.fuses[index]
    limit = seen.standards.fuse_carries_amps(element.amps, element.marked)
    # A lever that is held does not heat a fuse for long; its full rating is not to be passed even so.
    allowed = element.amps if peak.momentary else limit.value
    loads = seen.loads_in(index, peak.sample)
    yield Strain(
        "fuse", at, peak.amps, allowed, "A", limit.source, limit.basis,
        peak.sample.told, loads,
        path=seen.way(loads, peak.sample) if peak.amps > allowed else (),
        note=f"marked {element.amps:g} A, {element.marked}{_UNSEEN if at in seen.loom.feeds else ''}",
        momentary=peak.momentary,
    )  # fmt: skip
