"""The band of a good reading, solved at its low and its high end, and what a test lamp says in its place."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf, isinf

from planner.currents.laws import Filament
from planner.currents.solver import Branch
from planner.model.meter_limits import down, up
from planner.model.meter_page import LampSays
from planner.model.observations import OPEN_OHMS
from planner.testing.meter import TEST_LAMP_WATTS
from planner.testing.page.beating import Beating
from planner.testing.page.dead import DeadNet
from planner.testing.page.exposing import Exposer, as_read
from planner.testing.page.exposure import Exposure
from planner.testing.page.lamp import in_both, on_own_battery, says
from planner.testing.page.levels import Level
from planner.testing.page.no_lamp import Delicate
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe
from planner.testing.page.tolerance import factor, meter_error, scaled


@dataclass(frozen=True, slots=True)
class Band:
    """A good reading with the least and the most that it may be, and what a test lamp says.

    Where it swings with a flasher, ``dark`` is what it reads while the lamps are dark. ``at_levels`` are its
    bands with a tank at either end, if it hangs on one.
    """

    expected: float
    low: float
    high: float
    lamp: LampSays
    dark: float | None = None
    at_levels: tuple[tuple[Level, float, float], ...] = ()


def bands(
    exposer: Exposer, exposure: Exposure, probes: Sequence[Probe], volts: float, delicate: Delicate
) -> dict[Probe, Band]:
    """The bands of some probes; ``volts`` are those of the vehicle, and of its lamps."""
    levels = {probe: (None, *(level for level, _ in exposure.good[probe].at_levels)) for probe in probes}
    found: dict[Probe, dict[Level | None, Band]] = {probe: {} for probe in probes}
    for level in dict.fromkeys(level for own in levels.values() for level in own):
        here = [probe for probe in probes if level in levels[probe]]
        dead = [probe for probe in here if probe.setup is None]
        live = [probe for probe in here if probe.setup is not None]
        own = {**_dead(exposer, dead, volts, delicate, level), **_live(exposer, live, volts, delicate, level)}
        for probe, band in own.items():
            found[probe][level] = band
    return {
        probe: _at_any_level(own, probe.setup.position if probe.setup else exposer.rest)
        for probe, own in found.items()
    }


def _at_any_level(known: Mapping[Level | None, Band], stands: Mapping[str, str]) -> Band:
    """A band that holds at every level, with those at its two ends."""
    names = [level[0] for level in known if level is not None]
    if not names:
        return known[None]
    own = {level or (names[0], stands[names[0]]): band for level, band in known.items()}
    least = min(own, key=lambda level: own[level].low)
    most = max(own, key=lambda level: own[level].high)
    lamps = {band.lamp for band in own.values()}
    return replace(
        known[None],
        low=own[least].low,
        high=own[most].high,
        lamp=lamps.pop() if len(lamps) == 1 else "cannot tell",
        at_levels=tuple((level, own[level].low, own[level].high) for level in (least, most)),
    )


def _dead(
    exposer: Exposer, probes: Sequence[Probe], volts: float, delicate: Delicate, level: Level | None
) -> dict[Probe, Band]:
    """Ohms rise with every resistance, so all of them low and all of them high are the two ends."""
    if not probes:
        return {}
    dead = exposer.dead_at[level] if level else exposer.dead
    nominal = DeadNet(dead)
    ends = [
        DeadNet([b._replace(law=scaled(b.law, factor(b.name[0]) ** sign)) for b in dead])
        for sign in (-1.0, 1.0)
    ]
    lamps = on_own_battery(exposer, probes, volts, delicate)
    found = {}
    for probe, lamp in zip(probes, lamps, strict=True):
        low, expected, high = (as_read(net.ohms(probe.at, probe.to)) for net in (ends[0], nominal, ends[1]))
        if isinf(expected) or isinf(high):
            least = OPEN_OHMS if isinf(low) else down(low - meter_error(low, "ohm"))
            found[probe] = Band(inf, least, inf, lamp)
        else:
            low = max(0.0, down(low - meter_error(low, "ohm")))
            found[probe] = Band(expected, low, up(high + meter_error(high, "ohm")), lamp)
    return found


def _live(
    exposer: Exposer, probes: Sequence[Probe], volts: float, delicate: Delicate, level: Level | None
) -> dict[Probe, Band]:
    """Volts: the networks in which each reading is lowest and highest, with and without a lamp there."""
    lamp = Filament(volts, TEST_LAMP_WATTS / volts)
    points: list[list[Branch]] = []
    for probe in probes:
        assert probe.setup is not None
        for is_high in (False, True):
            leaning = exposer.leaning[probe.setup, level]
            corner = leaning.corner(probe.at, probe.to, high=is_high)
            points += [corner, [*corner, Branch(("lamp",), probe.at, probe.to, lamp)]]
    solved = solve_sets(points, exposer.live.grid.zero)
    found = {}
    for number, probe in enumerate(probes):
        own = solved[4 * number : 4 * number + 4]
        low, dimmest, high, brightest = (exposer.live.read(point, probe.at, probe.to) for point in own)
        bears = all(
            delicate.bear_beside(points[n], solved[n], solved[n + 1], lamp.amps(volts))
            for n in (4 * number, 4 * number + 2)
        )
        assert probe.setup is not None
        stand = exposer.leaning[probe.setup, level].stand
        expected = exposer.live.read(stand.point, probe.at, probe.to)
        low, high = min(low, high, expected), max(low, high, expected)
        lamps = {says(dimmest, volts), says(brightest, volts)}
        found[probe] = Band(
            expected,
            down(low - meter_error(low, "V")),
            up(high + meter_error(high, "V")),
            "none" if not bears else lamps.pop() if len(lamps) == 1 else "cannot tell",
        )
    return found


def swinging(found: Mapping[Probe, Band], beating: Beating, volts: float) -> dict[Probe, Band]:
    """Bands, with the dark half of those that swing with a flasher."""
    lit = {probe: band.expected for probe, band in found.items() if probe.setup is not None}
    dark = beating.dark(lit, volts)
    return {
        probe: replace(band, dark=dark[probe][0], lamp=in_both(band.lamp, says(dark[probe][1], volts)))
        if probe in dark
        else band
        for probe, band in found.items()
    }
