"""What the readings of a vehicle tell: what is good, and which mistakes make which of them wrong."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import isinf

import numpy as np
import numpy.typing as npt

from planner.currents.curves import Array
from planner.testing.mistakes.applied import Edit
from planner.testing.page.levels import Level
from planner.testing.page.probes import Probe

APART = 2.0  # a wrong reading may be as far off as a good one: twice that lies between the two
Flags = npt.NDArray[np.bool_]
Name = tuple[str, int]  # of a mistake, and which of its changes


@dataclass(frozen=True, slots=True)
class Good:
    """A reading of a good circuit: computed, and by how much it may be off, about.

    ``at_levels`` is what it reads instead where a tank is fuller or emptier; ``plus`` the point on which the
    plus of an ohmmeter has to be, so that diodes and LEDs block.
    """

    reading: float
    off: float
    at_levels: tuple[tuple[Level, float], ...] = ()
    plus: str = ""

    @property
    def all(self) -> tuple[float, ...]:
        """What it reads at every level."""
        return (self.reading, *(reading for _, reading in self.at_levels))

    def is_other(self, reading: float) -> bool:
        """Whether a reading is farther off than a good one may be."""
        if isinf(self.reading) or isinf(reading):
            return isinf(self.reading) != isinf(reading)
        return not min(self.all) - self.off <= reading <= max(self.all) + self.off

    def is_wrong(self, reading: float) -> bool:
        """Whether a reading cannot be one of a good circuit, however far off either is."""
        if isinf(self.reading) or isinf(reading):
            return isinf(self.reading) != isinf(reading)
        return not min(self.all) - APART * self.off <= reading <= max(self.all) + APART * self.off

    def wrong_among(self, readings: Array, apart: float = APART) -> Flags:
        """Which of many readings are wrong."""
        if isinf(self.reading):
            return ~np.isinf(readings)
        low, high = min(self.all) - apart * self.off, max(self.all) + apart * self.off
        return (readings < low) | (readings > high)


@dataclass(frozen=True)
class Exposure:
    """The probes that can be read at all, what is good, and what each mistake makes of them if it shows.

    ``misread`` are the leads of a part on which no tip shows that it is the wrong way round, by mistake.
    """

    good: Mapping[Probe, Good]
    wrong: Mapping[Probe, Mapping[Name, float]]
    edits: Mapping[Name, Edit]
    misread: Mapping[str, frozenset[str]]

    def sees(self, probe: Probe, mistake: str) -> bool:
        """Whether a probe may show a mistake: whoever misread a part's leads misreads them again."""
        return not self.misread.get(mistake, frozenset()) & {probe.at, probe.to}

    def shown(self, probe: Probe) -> frozenset[str]:
        """The mistakes that a probe shows, whatever their size."""
        return frozenset(mistake for mistake, _ in self.wrong[probe])
