"""What a wrong reading suggests: the likeliest mistakes that make it, each solved with the mistake made."""

from collections.abc import Iterator, Mapping, Sequence
from math import inf, isinf

from planner.messages import tr
from planner.model.meter_page import WrongReading
from planner.testing.mistakes.mistake import Mistake
from planner.testing.page.bands import Band
from planner.testing.page.confirming import solved
from planner.testing.page.edited import OPEN_OHMS
from planner.testing.page.exposing import Exposer, Exposure
from planner.testing.page.probes import Probe
from planner.testing.page.tolerance import meter_error

MOST_LOOKED_AT = 6  # mistakes of one reading that are solved, the likeliest first
MOST_READINGS, MOST_MISTAKES = 3, 2  # wrong readings told of one test, and mistakes told of each
LEAST_APART = {"V": 0.5, "ohm": 0.5}  # readings nearer than this are told together


def wrong_readings(
    exposer: Exposer, exposure: Exposure, bands: Mapping[Probe, Band], mistakes: Mapping[str, Mistake]
) -> dict[Probe, tuple[WrongReading, ...]]:
    """For each probe with a band what wrong readings suggest, the likeliest first."""
    likely = {probe: _likeliest(exposure.wrong[probe], mistakes) for probe in bands}
    readings = {
        probe: {name: exposure.wrong[probe][name, number] for name, number in names}
        for probe, names in likely.items()
    }
    live = [probe for probe in bands if probe.setup is not None]
    for probe, name, reading in _solved(exposer, exposure, {probe: likely[probe] for probe in live}):
        readings[probe][name] = reading
    return {
        probe: tuple(_told(bands[probe], readings[probe], mistakes, "ohm" if probe.setup is None else "V"))
        for probe in bands
    }


def _likeliest(
    wrong: Mapping[tuple[str, int], float], mistakes: Mapping[str, Mistake]
) -> list[tuple[str, int]]:
    """The likeliest mistakes that show, each with the first of its changes that does."""
    first: dict[str, int] = {}
    for name, number in wrong:
        first.setdefault(name, number)
    ordered = sorted(first, key=lambda name: (-mistakes[name].weight, name))
    return [(name, first[name]) for name in ordered[:MOST_LOOKED_AT]]


def _solved(
    exposer: Exposer, exposure: Exposure, likely: Mapping[Probe, Sequence[tuple[str, int]]]
) -> Iterator[tuple[Probe, str, float]]:
    """Yield volts with each likely mistake made, all solved together."""
    asked = [(probe, name, number) for probe, names in likely.items() for name, number in names]
    readings = solved(exposer, [(probe, exposure.edits[name, number]) for probe, name, number in asked])
    for (probe, name, _), reading in zip(asked, readings, strict=True):
        yield probe, name, reading


def _told(
    band: Band, readings: Mapping[str, float], mistakes: Mapping[str, Mistake], unit: str
) -> Iterator[WrongReading]:
    """Yield wrong readings, those that are alike together."""
    groups: list[tuple[float, list[str]]] = []
    for name, reading in readings.items():
        if band.low <= reading <= band.high:
            continue
        near = [g for g in groups if g[0] == reading or abs(g[0] - reading) < LEAST_APART[unit]]
        if near:
            near[0][1].append(mistakes[name].words)
        else:
            groups.append((reading, [mistakes[name].words]))
    for reading, words in groups[:MOST_READINGS]:
        yield WrongReading(*_about(reading, band, unit), tr("; or ").join(words[:MOST_MISTAKES]))


def _about(reading: float, band: Band, unit: str) -> tuple[float, float]:
    """What is read if it is about so much, and clear of what is good."""
    if isinf(reading):
        return OPEN_OHMS, inf
    off = max(LEAST_APART[unit], 0.1 * abs(reading)) + meter_error(reading, unit)
    low, high = reading - off, reading + off
    if reading < band.low:
        high = min(high, band.low)
    elif reading > band.high:
        low = max(low, band.high)
    return (max(low, 0.0) if unit == "ohm" else low), high
