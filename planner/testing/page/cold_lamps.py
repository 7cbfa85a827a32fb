"""What cold lamps hide from ohms: two wires traded, and a few tenths of an ohm between the two all the same.

A cold filament has hardly more than a wire and its joints. What reads just above good is told with the poor
joint that reads as much; what reads good, and is a short with the battery on, has to be looked at before.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.testing.mistakes.mistake import Kind, Mistake
from planner.testing.page.answers import LITTLE_OHMS, Suspect
from planner.testing.page.bands import Band
from planner.testing.page.confirming import solved
from planner.testing.page.exposing import Exposer
from planner.testing.page.exposure import Exposure
from planner.testing.page.probes import Probe
from planner.testing.page.setups import Setup

_MOVED: frozenset[Kind] = frozenset(("ends traded", "wrong way round", "mirror image"))


@dataclass(frozen=True)
class ColdLamps:
    """Knows what moved ends make of the readings of one vehicle that is dead."""

    exposer: Exposer
    exposure: Exposure
    mistakes: Mapping[str, Mistake]

    def suspects(self, bands: Mapping[Probe, Band]) -> dict[Probe, list[Suspect]]:
        """For each reading along a wire the ends at its tips that, moved, make it a little more than good."""
        wires = [probe for probe, band in bands.items() if probe.setup is None and band.high < LITTLE_OHMS]
        moved = [mistake for mistake in self.mistakes.values() if mistake.kind in _MOVED]
        readings = self.exposer.dead_readings(wires, moved)
        return {
            probe: [
                Suspect(own[mistake.id], mistake.words)
                for mistake in moved
                if {probe.at, probe.to} & set(mistake.mend)
                and bands[probe].high < own.get(mistake.id, 0.0) < LITTLE_OHMS
                and mistake.id not in self.exposure.shown(probe)
            ]
            for probe, own in readings.items()
        }

    def shorts(self, ordered: Sequence[Probe]) -> Iterator[Mistake]:
        """Yield the moved ends that no reading of ohms shows, and for which a fuse goes at full power."""
        dead = frozenset().union(*(self.exposure.shown(probe) for probe in ordered if probe.setup is None))
        asked: dict[tuple[Setup, str], Probe] = {}
        for probe in ordered:
            for name, _ in self.exposure.wrong[probe] if probe.setup is not None else ():
                if probe.setup and name not in dead and self.mistakes[name].kind in _MOVED:
                    asked.setdefault((probe.setup, name), probe)
        edits = [(probe, self.exposure.edits[name, 0]) for (_, name), probe in asked.items()]
        found = zip(asked, solved(self.exposer, edits), strict=True)
        blown = {name for (_, name), reading in found if reading.is_blown}
        yield from (mistake for name, mistake in self.mistakes.items() if name in blown)
