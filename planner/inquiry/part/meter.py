"""What a reading says about the ohms that are really there: the meter's leads, its ranges and its beeper.

Common practice, no source: cheap meters differ that much.
"""

from dataclasses import dataclass
from math import inf

from planner.inquiry.part.element_ohms import Ohms
from planner.model.readings import Reading

LEADS_OHMS = 0.5  # leads and tips, where the person has not said what they read held together
LEADS_OFF_OHMS = 0.1  # how far leads that were read once may be off
READ_SHARE, READ_OHMS = 0.03, 0.1  # how far a figure may be off: so many hundredths, and the last digit
BEEPS_BELOW_OHMS = 60.0  # the highest at which most beepers still sound; many stop at 30
# What reads open may be anything beyond the lowest range, on which a person looks for continuity: 200 ohm.
OPEN_ABOVE_OHMS = 200.0


@dataclass(frozen=True, slots=True)
class Found:
    """What a reading leaves possible: ohms between bounds; ``drop`` if it was a junction that conducts."""

    least: float
    most: float
    drop: bool = False

    def agrees(self, ohms: Ohms) -> bool:
        """Whether it may be the reading of something with ohms between some bounds."""
        if self.drop:
            return ohms[0] < inf and ohms[1] == inf
        return self.least <= ohms[1] and ohms[0] <= self.most

    @property
    def is_open(self) -> bool:
        """Whether nothing was found to join the two terminals."""
        return self.most == inf and not self.drop


def found(reading: Reading, leads_ohms: float | None = None) -> Found:
    """What a reading leaves possible, with leads that read so many ohms held together; None if unknown."""
    says = reading.says
    if says == "open":
        return Found(OPEN_ABOVE_OHMS, inf)
    if says == "closed":
        return Found(0.0, BEEPS_BELOW_OHMS)
    if says == "drop":
        return Found(0.0, inf, drop=True)
    off = says * READ_SHARE + READ_OHMS
    if leads_ohms is None:
        return Found(max(says - off - LEADS_OHMS, 0.0), says + off)
    off += LEADS_OFF_OHMS
    return Found(max(says - leads_ohms - off, 0.0), max(says - leads_ohms, 0.0) + off)
