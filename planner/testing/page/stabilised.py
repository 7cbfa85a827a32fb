"""What a gauge stabiliser does to readings, be it of bimetal or electronic.

No reading of ohms hangs on it: a bimetal one has its contact closed while it is cold, and a heater behind
that. A reading of more than its volts has the key off first. Common practice, no source.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from planner.currents.grid import BODY
from planner.currents.laws import Resistance
from planner.currents.resistances import CONTACT_OHMS
from planner.currents.solver import Branch
from planner.messages import tr
from planner.model.elements import AnyElement, Gauge, Stabiliser
from planner.model.loom import Loom
from planner.model.meter_page import WrongReading
from planner.model.part import Part
from planner.model.reach import conductor
from planner.testing.page.dead import dead_branches
from planner.testing.page.probes import Probe, dead_probes
from planner.testing.wired import Wired

HEATER_OHMS = 60.0  # from the output of a bimetal stabiliser to its case; common practice, no source


class Stabilised:
    """Knows by address what of one vehicle bears no more than the volts of a stabiliser, and how many."""

    def __init__(self, loom: Loom, parts: Mapping[str, Part]) -> None:
        inside = [(place, e) for place, fitted in loom.places.items() for e in parts[fitted.part].inside]
        self.outputs = dict(_outputs(loom, inside))
        self.most = {at: volts for at, (volts, _) in self.outputs.items()}
        for place, element in inside:
            if isinstance(element, Gauge) and element.volts is not None:
                self.most |= {f"{place}:{mark}": element.volts for mark in element.between}

    def probes(self, wired: Wired) -> Iterator[Probe]:
        """Yield the ohms along what was made at its output: one left out shows before power."""
        yield from (probe for probe in dead_probes(wired) if {probe.at, probe.to} <= self.outputs.keys())

    def more(self, probe: Probe) -> str:
        """What more volts than good mean at a stabiliser's output, or across a gauge on it; else nothing."""
        if probe.setup is None or probe.at not in self.outputs:
            return ""
        volts, title = self.outputs[probe.at]
        if probe.to != BODY:
            return tr(
                "the {place} lets more than its {volts:g} V through (left out, the wrong way round, its case "
                "without earth, or broken), or the wire from the gauge to its sender touches earth",
                place=title,
                volts=volts,
            )
        return tr(
            "the {place} lets more than its {volts:g} V through: its case has no earth, or it is broken",
            place=title,
            volts=volts,
        )

    def warned(
        self, probe: Probe, good_high: float, lines: Sequence[WrongReading]
    ) -> tuple[WrongReading, ...]:
        """Lines, with what comes first where a gauge gets more than it bears."""
        if probe.setup is None or probe.at not in self.most:
            return tuple(lines)
        least = max(good_high, self.most[probe.at] if probe.to == BODY else 0.0)
        return tuple(
            replace(line, words=tr("key off at once, or the gauge is destroyed: {words}", words=line.words))
            if line.low >= least
            else line
            for line in lines
        )


def _outputs(loom: Loom, inside: Sequence[tuple[str, AnyElement]]) -> Iterator[tuple[str, tuple[float, str]]]:
    """Yield each address that a stabiliser's output is joined to, with its volts and what people call it."""
    for place, element in inside:
        if isinstance(element, Stabiliser):
            for at in conductor(loom, f"{place}:{element.between[1]}"):
                yield at, (element.volts, loom.place_title(place))


def cold_branches(branches: Iterable[Branch]) -> list[Branch]:
    """What is left of branches on a dead vehicle, the contacts of bimetal stabilisers closed."""
    return [
        branch._replace(law=Resistance(CONTACT_OHMS)) if branch.name[0] == "stabiliser" else branch
        for branch in dead_branches(branches)
    ]


def heaters_of(branches: Iterable[Branch]) -> list[Branch]:
    """The heaters that the stabilisers among branches have if they are of bimetal."""
    return [
        branch._replace(law=Resistance(HEATER_OHMS))
        for branch in branches
        if branch.name[0] == "stabiliser" and branch.name[-1] == "held"
    ]
