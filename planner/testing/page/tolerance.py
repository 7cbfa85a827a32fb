"""How far a good circuit may be from its computed reading: the meter, the battery, and every resistance.

All of it common practice, no source: a hand-held meter of the better half, a battery that is neither new nor
flat, joints between freshly made and long in use, and loads as they come out of their boxes.
"""

from planner.currents.laws import Emf, Filament, Junction, Law, Resistance
from planner.testing.meter import METER_OHMS, METER_SHARE, METER_VOLTS

LEAST_CHARGE = 0.3  # of a battery with which one sets out to test
LOAD_SHARE = 0.15  # of a lamp, a winding, a coil: by which its resistance may be more or less
JOINT_TIMES = 2.5  # by which a wire with its ends, a contact, a fuse, a way to earth may have more or less
JOINTS = frozenset({"wire", "contact", "fuse", "flasher", "mounting", "body", "feed", "source"})
SOURCES = frozenset({"source", "feed"})


def factor(kind: str) -> float:
    """By how much the resistance of a kind of branch may be more, and divided, less."""
    return JOINT_TIMES if kind in JOINTS else 1.0 + LOAD_SHARE


def scaled(law: Law, times: float) -> Law:
    """A law with its resistance taken so many times; a source keeps its volts."""
    match law:
        case Resistance(ohms):
            return Resistance(ohms * times)
        case Filament(volts, amps):
            return Filament(volts, amps / times)
        case Junction(drop, ohms):
            return Junction(drop, ohms * times)
        case Emf(volts, ohms):
            return Emf(volts, ohms * times)
    raise AssertionError(law)


def meter_error(reading: float, unit: str) -> float:
    """By how much a meter may be off a reading, in V or ohm."""
    return METER_SHARE * abs(reading) + (METER_VOLTS if unit == "V" else METER_OHMS)
