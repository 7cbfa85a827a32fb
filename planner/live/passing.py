"""What passes a leg, as the values of functions: what loads give and take, and what follows from it.

The loads of one side are bits: ``OUT`` where one takes current from the joints, ``IN`` where one gives it.
"""

from typing import Any

CARRIES_FROM = 0.001  # A; less is told as no current; common practice, no source
CARRIES, NOTHING, NOT_TOLD = "carries current", "no current", "not told"
OUT, IN, MIXED = 1, 2, 3
UNDECIDED = -1


def as_it_is(amps: float) -> object:
    """The amps of a load."""
    return amps


def gives(joined: object) -> object:
    """A load gives its current to a joint where it is joined."""
    return 1.0 if joined else 0.0


def takes(joined: object) -> object:
    """A load takes its current from a joint where it is joined."""
    return -1.0 if joined else 0.0


def add(first: Any, second: Any) -> object:
    """Amps together."""
    return first + second


def times(first: Any, second: Any) -> object:
    """Amps where a load is joined."""
    return first * second


def both(first: object, second: object) -> object:
    """Whether both hold."""
    return bool(first) and bool(second)


def either(first: object, second: object) -> object:
    """Whether one of two holds."""
    return bool(first) or bool(second)


def direction(amps: Any) -> object:
    """Which way amps go, as a bit."""
    return 0 if abs(amps) < CARRIES_FROM else IN if amps > 0 else OUT


def bits(first: Any, second: Any) -> object:
    """What two loads do together."""
    return first | second


def where_mixed(does: Any, amps: Any) -> object:
    """Amps, only where some loads give and some take."""
    return amps if does == MIXED else 0.0


def settled(does: Any, total: Any) -> object:
    """What loads do together; where some give and some take, what their sum says."""
    return total if does == MIXED else does


def unless(pole: object, does: object) -> object:
    """What the loads do, undecided where there is a pole."""
    return UNDECIDED if pole else does


def first_decided(first: object, second: object) -> object:
    """What the first side says, or else the second."""
    return second if first == UNDECIDED else first


def word(does: object) -> object:
    """What is told of a leg."""
    return NOT_TOLD if does == UNDECIDED else CARRIES if does else NOTHING
