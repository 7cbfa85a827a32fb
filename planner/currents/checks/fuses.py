"""Fuses: what they carry against what they carry for good, by what the amps printed on them mean."""

from collections.abc import Iterator

from planner.currents.checks.inspection import Inspection
from planner.model.elements import Fuse
from planner.model.strain import Strain


def strains(seen: Inspection) -> Iterator[Strain]:
    """Yield the most that each fuse carries for longer than a moment."""
    for index, branch in seen.of_kind("fuse"):
        element = seen.element(index)
        peak = seen.peaks.get(index)
        if peak is None or peak.amps < 0.01:
            continue
        assert isinstance(element, Fuse)
        limit = seen.standards.fuse_carries_amps(element.amps, element.marked)
        # A lever that is held does not heat a fuse for long; its full rating is not to be passed even so.
        allowed = element.amps if peak.momentary else limit.value
        loads = seen.loads_in(index, peak.sample)
        yield Strain(
            "fuse", branch.b, peak.amps, allowed, "A", limit.source, limit.basis,
            seen.told(peak.sample), loads,
            path=seen.way(loads, peak.sample) if peak.amps > allowed else (),
            note=f"marked {element.amps:g} A, {element.marked}", momentary=peak.momentary,
        )  # fmt: skip
