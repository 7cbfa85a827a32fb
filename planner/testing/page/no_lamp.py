"""Where no test lamp goes: it might destroy electronics, gauges and senders, or hit hundreds of volts.

Common practice, no source.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from planner.circuit.fitted import FittedPart
from planner.currents.solver import Branch, Point
from planner.model.elements import AnyElement, Diode, Flasher, Gauge, Led, Resistor, Sender, Stabiliser
from planner.model.loom import Loom, split_address
from planner.model.part import Part
from planner.model.reach import conductor
from planner.testing.meter import IGNITION

HEATER_WATTS = 20.0  # a resistor that does something and takes less is an apparatus: a radio, a module

_MINDING = frozenset(
    ("negative-earth", "positive-earth")
)  # of one pole earthed only: there are electronics in it
HARM_SHARE = 0.01  # of a lamp's current: less goes anywhere that a leak goes


class Delicate:
    """The branches of one vehicle that bear no lamp's current, whichever way it gets there."""

    def __init__(self, loom: Loom, parts: Mapping[str, Part]) -> None:
        self._names = frozenset(
            name
            for place, fitted in loom.places.items()
            for number in range(len(parts[fitted.part].inside))
            for name in branches_of(FittedPart(place, parts[fitted.part], {}), number)
        )

    def bear_alone(self, branches: Sequence[Branch], amps: Sequence[float], lamp_amps: float) -> bool:
        """Whether a lamp with a battery of its own, the only one there, sends its current elsewhere."""
        return not any(
            abs(own) > HARM_SHARE * lamp_amps and branch.name in self._names
            for branch, own in zip(branches, amps, strict=True)
        )

    def bear_beside(self, branches: Sequence[Branch], without: Point, lit: Point, lamp_amps: float) -> bool:
        """Whether a lamp beside a live circuit makes no more flow there; a flasher's contact bears it."""
        return not any(
            abs(lit.amps[n]) - abs(without.amps[n]) > HARM_SHARE * lamp_amps
            for n, branch in enumerate(branches)
            if branch.name in self._names and branch.name[0] != "flasher"
        )


def branches_of(part: FittedPart, number: int) -> Iterator[tuple[str, ...]]:
    """Yield the branches of one element of a part, if it is one that bears no lamp."""
    element = part.part.inside[number]
    if isinstance(element, Sender):
        yield from (("load", part.place, f"#{number} {state}") for state in element.ohms)
    elif isinstance(element, Stabiliser):
        yield from (("stabiliser", part.place, str(number), end) for end in ("in", "held"))
    elif isinstance(element, Flasher):
        if is_electronic(element):
            yield ("flasher", part.place, str(number))
    elif isinstance(element, Gauge) or is_electronic(element):
        yield ("load", *part.load_keys[number])


def harms_dead(loom: Loom, parts: Mapping[str, Part], tips: Iterable[str]) -> bool:
    """Whether a lamp with a battery of its own sends its current through what does not bear it.

    With the wire off that is tested it goes through what the tips are on. A gauge elsewhere on the same feed
    gets no more than it has at work, a sender on the wire does.
    """
    tips = tuple(tips)
    ends = [end for tip in tips for end in conductor(loom, tip)]
    places = {split_address(end)[0] for end in ends}
    fitted = [parts[loom.places[name].part] for name in places if name in loom.places]
    if any(part.polarity in _MINDING or any(map(is_electronic, part.inside)) for part in fitted):
        return True
    at_tips = (element for tip in tips for element in _on(loom, parts, tip))
    if any(isinstance(element, Gauge | Stabiliser) for element in at_tips):
        return True
    return any(isinstance(element, Sender) for end in ends for element in _on(loom, parts, end))


def harms_live(loom: Loom, parts: Mapping[str, Part], tips: Iterable[str]) -> bool:
    """Whether a lamp beside a live circuit draws through a gauge or a sender, or is on the ignition."""
    for tip in tips:
        fitted = loom.places.get(split_address(tip)[0])
        if fitted and parts[fitted.part].family == IGNITION:
            return True
        if any(isinstance(element, Gauge | Sender) for element in _on(loom, parts, tip)):
            return True
    return False


def _on(loom: Loom, parts: Mapping[str, Part], address: str) -> Iterator[AnyElement]:
    """Yield what hangs on a terminal inside its part."""
    place, mark = split_address(address)
    fitted = loom.places.get(place)
    for element in parts[fitted.part].inside if fitted else ():
        if mark in getattr(element, "between", ()):
            yield element


def is_electronic(element: AnyElement) -> bool:
    """A light-emitting lamp, a diode, an electronic flasher, an apparatus that a resistor stands for."""
    if isinstance(element, Flasher):
        return element.kind == "electronic"
    if isinstance(element, Resistor):
        return element.does is not None and (element.watts or 0.0) < HEATER_WATTS
    return isinstance(element, Led) or (isinstance(element, Diode) and not element.is_cut_out)
