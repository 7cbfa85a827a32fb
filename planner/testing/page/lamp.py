"""What a test lamp says in place of a meter, and where none goes."""

from collections.abc import Sequence

from planner.circuit.appearance import FULL_FROM, GLOWS_FROM
from planner.currents.grid import BODY
from planner.currents.laws import Emf, Filament
from planner.currents.solver import Branch
from planner.model.meter_page import LampSays
from planner.testing.meter import TEST_LAMP_WATTS
from planner.testing.page.exposing import Exposer
from planner.testing.page.no_lamp import Delicate
from planner.testing.page.points import solve_sets
from planner.testing.page.probes import Probe

OWN_BATTERY_OHMS = 0.05  # of the battery that a lamp on a dead circuit needs of its own


def on_own_battery(
    exposer: Exposer, probes: Sequence[Probe], volts: float, delicate: Delicate
) -> list[LampSays]:
    """What a lamp in series with a battery of its own says on the dead vehicle, where it does no harm."""
    grid, dead = exposer.live.grid, {branch.name for branch in exposer.dead}
    warm = [
        branch
        for branch in (grid.bare[i] for i in grid.closed(exposer.rest))
        if branch.name in dead  # with the filaments as they warm up
    ]
    lamp = Filament(volts, TEST_LAMP_WATTS / volts)
    points = [
        [
            *warm,
            Branch(("battery",), "tester", probe.to, Emf(exposer.live.sign * volts, OWN_BATTERY_OHMS)),
            Branch(("lamp",), "tester", probe.at, lamp),
        ]
        for probe in probes
    ]
    return [
        says(point.across(own[-1]), volts)
        if delicate.bear_alone(own, point.amps, TEST_LAMP_WATTS / volts)
        else "none"
        for own, point in zip(points, solve_sets(points, BODY), strict=True)
    ]


def says(across: float, volts: float) -> LampSays:
    """How a lamp looks at some volts across it."""
    law = Filament(volts, TEST_LAMP_WATTS / volts)
    share = abs(across * law.amps(across)) / TEST_LAMP_WATTS
    return "lit" if share >= FULL_FROM else "dim" if share >= GLOWS_FROM else "dark"


def in_both(lit: LampSays, dark: LampSays) -> LampSays:
    """What a test lamp shows of two halves of a beat."""
    if "none" in (lit, dark):
        return "none"
    return lit if "cannot tell" in (lit, dark) or lit == dark else "flashes"
