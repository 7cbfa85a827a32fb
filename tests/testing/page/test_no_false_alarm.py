"""A good vehicle passes every test: each resistance, the battery and the meter off by any amount allowed."""

import random
from math import exp, inf, log

import pytest
from metered import Metered, metered

from planner.currents.laws import Emf, Junction, Resistance
from planner.currents.ohmmeter import dead_branch
from planner.currents.solver import Branch
from planner.model.meter_page import MeterTest
from planner.model.observations import OPEN_OHMS
from planner.testing.page.judging import judge
from planner.testing.page.live import LEAST_VOLTS_SHARE
from planner.testing.page.points import solve_sets
from planner.testing.page.tolerance import SOURCES, factor, meter_error, scaled

DRAWS = 12  # vehicles, each with every resistance drawn anew
REGULATOR_V = 1.2  # the most that transistors before a field drop: common practice, no source
WINDING_OHMS = (3.5, 8.0)  # of a field: common practice, no source
JOBS = (
    "two-speed-wipers", "brighter-headlamps", "car-to-negative-earth", "dip-relay-five-to-four",
    "alternator-with-led-charge-lamp", "dynamo-to-alternator",
)  # fmt: skip


class Vehicle:
    """One good vehicle: every branch with a resistance of its own, drawn once.

    Every other one has an electronic regulator in its alternator, the rest a mechanical one.
    """

    def __init__(self, seed: int) -> None:
        self.dice = random.Random(seed)
        self.share = self.dice.choice([1.0, LEAST_VOLTS_SHARE, self.dice.uniform(LEAST_VOLTS_SHARE, 1.0)])
        self.drawn: dict[tuple[str, ...], float] = {}
        self.regulator_v = REGULATOR_V * (seed % 2)

    def branch(self, branch: Branch) -> Branch:
        """A branch as it is in this vehicle; at one end of its range every other time."""
        if branch.name[:2] == ("load", "engine.dynamo"):  # an alternator sits there in two of the jobs
            ohms = self.dice.choice(WINDING_OHMS)
            law = Junction(self.regulator_v, ohms) if self.regulator_v else Resistance(ohms)
            return branch._replace(law=law)
        most = log(factor(branch.name[0]))
        if branch.name not in self.drawn:
            off = self.dice.uniform(-most, most)
            self.drawn[branch.name] = exp(self.dice.choice([off, most, -most, off]))
        law = scaled(branch.law, self.drawn[branch.name])
        if branch.name[0] in SOURCES and isinstance(law, Emf):
            law = Emf(law.volts * self.share, law.ohms)
        return branch._replace(law=law)

    def read(self, value: float, unit: str) -> float:
        """What a meter shows of a value: off by as much as it may be."""
        return value + self.dice.uniform(-1, 1) * meter_error(value, unit) if value < inf else value


def true_value(van: Metered, test: MeterTest, good: Vehicle) -> float:
    """Volts or ohms in one vehicle, by the solver of the electrical view."""
    branches = van.network(test, good.branch)
    if test.unit == "V":
        volts = solve_sets([branches], van.ground.grid.zero)[0].volts
        return van.sign * (volts[test.at] - volts[test.to]) if {test.at, test.to} <= set(volts) else 0.0
    dead = [
        law
        for branch in branches
        if branch.name[0] not in ("source", "feed", "fuse") and (law := dead_branch(branch)) is not None
    ]
    meter = Branch(("meter",), test.at, test.to, Emf(0.2, 100.0))
    point = solve_sets([[meter, *dead]], test.to)[0]
    ohms = -point.across(meter) / point.amps[0] if abs(point.amps[0]) > 1e-12 else inf
    return inf if ohms >= OPEN_OHMS else ohms


@pytest.mark.parametrize("job", JOBS)
def test_a_good_vehicle_passes_every_test(job: str) -> None:
    van = metered(job)
    alarms = []
    for seed in range(DRAWS):
        good = Vehicle(seed)
        for test in van.page.tests:
            value = true_value(van, test, good)
            shown = good.read(value, test.unit)
            taken = judge(test, "", max(0.0, shown) if test.unit == "ohm" else shown)
            if taken.verdict != "good":
                alarms.append((seed, test.id, value, test.low, test.high))
    assert van.page.tests and alarms == []
