"""A reading that can be taken next."""

from dataclasses import dataclass

from planner.model.observations import ObservationKind
from planner.testing.hunt.solving import Setting


@dataclass(frozen=True, slots=True)
class Question:
    """What to read, where, in which setting; the bits it is expected to tell, the minutes it takes."""

    kind: ObservationKind
    at: str
    to: str
    setting: Setting
    bits: float
    minutes: float
    has_fuses_out: bool = False
