"""Readings of the meter page by ngspice: volts of live tests, ohms of dead ones, as they should be."""

from math import isinf

import pytest
from metered import metered
from spice import Circuit, needs_ngspice, node_volts

from planner.currents.laws import Emf
from planner.currents.ohmmeter import METER_OHMS, TEST_V, dead_branch
from planner.currents.solver import Branch

CLOSE_V, CLOSE_SHARE = 2e-4, 2e-3


@needs_ngspice
@pytest.mark.parametrize(
    "job", ["two-speed-wipers", "brighter-headlamps", "car-to-negative-earth", "dip-relay-five-to-four"]
)
def test_what_is_expected_is_what_ngspice_finds(job: str) -> None:
    van = metered(job)
    live = [test for test in van.page.tests if test.unit == "V"]
    dead = [test for test in van.page.tests if test.unit == "ohm" and not isinf(test.expected)]
    zero = van.ground.grid.zero
    volts = node_volts([Circuit(test.id, van.network(test), zero) for test in live])
    for test, nodes in zip(live, volts, strict=True):
        read = van.sign * (nodes[test.at] - nodes[test.to]) if {test.at, test.to} <= set(nodes) else 0.0
        assert read == pytest.approx(test.expected, abs=CLOSE_V), test.id
    for test in dead:
        meter = Branch(("meter",), test.at, test.to, Emf(TEST_V, METER_OHMS))
        left = [
            cold
            for branch in van.network(test)
            if branch.name[0] not in ("source", "feed", "fuse") and (cold := dead_branch(branch)) is not None
        ]
        (nodes,) = node_volts([Circuit(test.id, [meter, *left], test.to)])
        across = nodes[test.at]
        ohms = across / ((TEST_V - across) / METER_OHMS)
        assert ohms == pytest.approx(test.expected, rel=CLOSE_SHARE, abs=1e-4), test.id
    assert live and dead
