"""The ohms that a meter may find across each kind of element, from the least to the most.

A part on the bench is of the same kind as the catalogue's, seldom the same piece: how far its ohms may be off
is common practice without a source, unless a line says otherwise. The bounds are wide where a meter finds
something else than what works in the vehicle: a cold filament, a motor that stands still.
"""

from collections.abc import Callable, Mapping
from math import inf
from typing import Any

from planner.currents.laws import COLD_SHARE
from planner.model.elements import (
    AnyElement,
    Coil,
    Diode,
    Flasher,
    Gauge,
    Lamp,
    Led,
    Resistor,
    Sender,
    Source,
    Stabiliser,
    Winding,
)

Ohms = tuple[float, float]  # the least and the most
UNKNOWN: Ohms = (0.0, inf)  # whatever a meter says there is no surprise
OPEN: Ohms = (inf, inf)
# A junction that conducts, on the lowest range of an old meter; no meter reads one as a joint.
JUNCTION: Ohms = (10.0, inf)
# A contact or fuse that is sound, with a film on it after years on a shelf; cleaned it has less than 0.1.
JOINT: Ohms = (0.0, 1.0)
RESISTOR_SHARE = 0.15
COIL_SHARE = 0.3  # coils of one kind differ from make to make
# The same pattern of relay is made for half or twice the volts, which takes a quarter of the ohms or four
# times as many, and makes differ by a factor of two.
ANY_COIL_FACTOR = 8.0
GAUGE_SHARE = 0.2
COLD_FACTOR = 1.5  # a cold filament has this many times less or more than COLD_SHARE of its hot ohms
STILL_FACTOR = 12.0  # a motor that stands still has up to this many times less than it seems to when it runs
STALLED_FACTOR = 2.0  # where the catalogue gives its stalled current, it is this many times less or more
RUNNING_SHARE = 1.3


def element_ohms(
    element: AnyElement, volts: float, setting: Mapping[str, str], *, any_coil: bool = False
) -> Ohms:
    """The ohms across an element that current can pass, in a part of some volts and in one setting.

    Diodes and LEDs have them in the direction in which they conduct; open against it. With ``any_coil`` a
    coil may have those of another make and of other volts.
    """
    if any_coil and isinstance(element, Coil):
        return element.ohms / ANY_COIL_FACTOR, element.ohms * ANY_COIL_FACTOR
    return OHMS[type(element)](element, volts, setting)


def _around(ohms: float, share: float) -> Ohms:
    return ohms * (1.0 - share), ohms * (1.0 + share)


def _lamp(lamp: Lamp, volts: float, _: Mapping[str, str]) -> Ohms:
    cold = (lamp.volts or volts) ** 2 / lamp.watts * COLD_SHARE
    return cold / COLD_FACTOR, cold * COLD_FACTOR


def _winding(winding: Winding, volts: float, _: Mapping[str, str]) -> Ohms:
    volts = winding.volts or volts
    running = volts**2 / winding.watts
    if winding.stalled_amps:
        return volts / winding.stalled_amps / STALLED_FACTOR, running * RUNNING_SHARE
    return running / STILL_FACTOR, running * RUNNING_SHARE


def _resistor(resistor: Resistor, _: float, setting: Mapping[str, str]) -> Ohms:
    there = all(setting.get(name) in labels for name, labels in resistor.when.items())
    return _around(resistor.ohms, RESISTOR_SHARE) if there else OPEN


def _coil(coil: Coil, _: float, __: Mapping[str, str]) -> Ohms:
    return _around(coil.ohms, COIL_SHARE)


def _gauge(gauge: Gauge, _: float, __: Mapping[str, str]) -> Ohms:
    return _around(gauge.ohms, GAUGE_SHARE)


def _sender(sender: Sender, _: float, __: Mapping[str, str]) -> Ohms:
    """Anywhere on its range: nobody knows where a float or a bulb stands on the bench."""
    return min(sender.ohms.values()) * (1 - GAUGE_SHARE), max(sender.ohms.values()) * (1 + GAUGE_SHARE)


def _flasher(flasher: Flasher, _: float, __: Mapping[str, str]) -> Ohms:
    """At rest: a thermal one has its heater in circuit, what an electronic one shows nobody knows."""
    return _around(flasher.heater_ohms, GAUGE_SHARE) if flasher.heater_ohms else UNKNOWN


def _junction(junction: Diode | Led, _: float, __: Mapping[str, str]) -> Ohms:
    """On the ohms range it is open, on the diode range or with an old meter's beeper it conducts.

    A cut-out's contact is held open by its spring while no generator turns.
    """
    return OPEN if isinstance(junction, Diode) and junction.is_cut_out else JUNCTION


def _unknown(_: Source | Stabiliser, __: float, ___: Mapping[str, str]) -> Ohms:
    """A generator's brushes or a bimetal's heater: no ohms are known, and a battery has volts."""
    return UNKNOWN


OHMS: Mapping[type[AnyElement], Callable[[Any, float, Mapping[str, str]], Ohms]] = {
    Lamp: _lamp,
    Winding: _winding,
    Resistor: _resistor,
    Coil: _coil,
    Gauge: _gauge,
    Sender: _sender,
    Flasher: _flasher,
    Diode: _junction,
    Led: _junction,
    Source: _unknown,
    Stabiliser: _unknown,
}
