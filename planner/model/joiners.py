"""Joiners that a work makes: what goes into one, and how its ends are made."""

from collections import Counter

from planner.model.loom import Loom, split_address
from planner.model.routes import length_between, wire_length, zone_of

BARE = "bare"  # what goes into an insulated joiner has no terminal of its own; common practice, no source
# Several wires as thick as this go on one stud, for no crimp takes them all; common practice, no source.
STUD_FROM_MM2 = 4.0
STUD_RING = "ring-6"  # the usual stud under a cover; common practice, no source


def is_new_joiner(before: Loom, address: str) -> bool:
    """Whether an address is a joiner that was not there before."""
    return split_address(address)[0] == "joint" and address not in before.ends_at


def stud_mm2(loom: Loom, joint: str) -> float | None:
    """The thickest wire, in mm2, of a joiner that has to be a stud; None if a usual one takes all."""
    ends = loom.ends_at.get(joint, ())
    thickest = max((max(loom.find(wire).areas_at(end)) for wire, end in ends), default=0.0)
    return thickest if thickest >= STUD_FROM_MM2 else None


def joiner_end(loom: Loom, joint: str) -> str:
    """The fitting of an end that goes into a new joiner: bare, or a ring where it is a stud."""
    return BARE if stud_mm2(loom, joint) is None else STUD_RING


def length_with_joiners(before: Loom, loom: Loom, from_: str, to: str) -> tuple[float, bool]:
    """Metres of a new wire with slack, as ``wire_length`` tells, where an end may be a joiner of the plan."""
    if "earth" in (from_, to):
        return wire_length(loom, from_, to)
    return length_between(loom, zone_with_joiners(before, loom, from_), zone_with_joiners(before, loom, to))


def zone_with_joiners(before: Loom, loom: Loom, address: str) -> str | None:
    """The zone an address is in; of a joiner of the plan that which its old ends come from."""
    own = joiner_zone(before, loom, address) if is_new_joiner(before, address) else None
    return own or zone_of(loom, address)


def joiner_zone(before: Loom, loom: Loom, joint: str) -> str | None:
    """The zone of a new joiner: that most of its old ends come from; of equal ones, where a new wire leads.

    None if nobody knows where any of them was.
    """
    came: Counter[str] = Counter()
    leads: set[str | None] = set()
    for name, number in loom.ends_at.get(joint, ()):
        old = before.find(name) if name in before.wire_index else None
        if old is None:
            leads |= {zone_of(loom, end.at) for end in loom.find(name).ends if end.at != joint}
        elif number < len(old.ends) and (zone := zone_of(before, old.ends[number].at)) is not None:
            came[zone] += 1
    return max(sorted(came), key=lambda zone: (came[zone], zone in leads), default=None)
