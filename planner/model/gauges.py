"""What a gauge shows with a sender: the two in series on the volts that the gauge is made for."""

from collections.abc import Iterator

from planner.model.elements import Gauge, Sender
from planner.model.part import Part

# Of the scale: a driver reads an instrument to about a tenth. Common practice, no source.
GAUGE_SHARE = 0.1


def gauge_volts(gauge: Gauge, part: Part) -> float:
    """The volts that a gauge is made for."""
    return gauge.volts or part.volts


def readings(gauge: Gauge, part: Part, sender: Sender) -> Iterator[tuple[str, float, float]]:
    """Yield each state that both know: what the gauge shows then and what its face says, as shares."""
    for state, mark in gauge.marks.items():
        if state in sender.ohms:
            amps = gauge_volts(gauge, part) / (gauge.ohms + sender.ohms[state])
            yield state, amps / gauge.full_scale_amps, mark


def belong_together(gauge: Gauge, part: Part, sender: Sender) -> bool:
    """Whether a gauge shows what a sender means, to a tenth of the scale, in every state of its face."""
    found = list(readings(gauge, part, sender))
    return len(found) == len(gauge.marks) > 0 and all(
        abs(shown - mark) <= GAUGE_SHARE for _, shown, mark in found
    )


def gauges_of(part: Part) -> Iterator[Gauge]:
    """Yield the gauges in a part that have a face with marks."""
    for element in part.inside:
        if isinstance(element, Gauge) and element.marks:
            yield element


def senders_of(part: Part) -> Iterator[Sender]:
    """Yield the senders in a part."""
    for element in part.inside:
        if isinstance(element, Sender):
            yield element
