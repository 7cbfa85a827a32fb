"""What a parked vehicle may take from its battery, and how soon that is flat."""

from planner.model.strain import WORSE

# Clock, alarm and radio memory of a parked car together stay below this: common practice, no source.
DRAIN_AMPS = 0.05
USABLE_SHARE = 0.5  # of a battery's charge, after which it may no longer start the engine; from memory


def is_drain(after_amps: float, before_amps: float) -> bool:
    """Whether what is taken at rest is too much, and was not, or clearly less so, before."""
    known = before_amps * WORSE if before_amps > DRAIN_AMPS else 0.0
    return after_amps > max(DRAIN_AMPS, known)


def drain_words(amps: float, amp_hours: float | None) -> str:
    """A drain in mA, with the days until half of the battery is gone if its size is known."""
    taken = f"{1000 * amps:.0f} mA" if amps >= 0.001 else f"{1000 * amps:.2g} mA"
    if not amp_hours or not amps:
        return taken
    days = amp_hours * USABLE_SHARE / amps / 24
    return f"{taken}: half of {amp_hours:g} Ah is gone in {days:.{0 if days >= 10 else 1}f} days"
