"""The quick networks of the meter page against the electrical view: ohms, mistakes, and a test lamp."""

from itertools import combinations
from math import inf, isinf

import pytest
from metered import branches_with, metered

from planner.currents.laws import Emf, Filament, Junction, Resistance
from planner.currents.ohmmeter import cold_ohms, dead_branch
from planner.currents.solver import Branch, solve
from planner.model.meter_page import MeterTest
from planner.testing.meter import TEST_LAMP_WATTS
from planner.testing.page.around import Around
from planner.testing.page.bands import says
from planner.testing.page.blocked import Blocked
from planner.testing.page.dead import DeadNet, dead_branches
from planner.testing.page.edited import volts_with
from planner.testing.page.exposing import Exposer, as_read
from planner.testing.page.probes import Probe, changed_addresses, dead_probes

JOB = "two-speed-wipers"


def test_ohms_between_points_are_those_of_the_ohmmeter() -> None:
    grid, rest = metered(JOB).ground.grid, metered(JOB).ground.exposer.rest
    net = DeadNet([b for i in grid.closed(rest) if (b := dead_branch(grid.bare[i])) is not None])
    pairs = [("scuttle.wiper-motor:53", "earth"), ("dash.wiper-switch:15", "dash.fuse-box:3")]
    for at, to in [*pairs, ("bay.coil:+", "left.headlamp:main")]:
        read = cold_ohms(grid, rest, at, to)
        assert (
            net.ohms(at, to) == pytest.approx(read, rel=1e-3, abs=1e-4) or min(read, net.ohms(at, to)) > 1e6
        )


def test_what_a_mistake_makes_of_ohms_is_what_its_own_network_has() -> None:
    van = metered(JOB)
    exposer: Exposer = van.ground.exposer
    pairs = [Probe(*pair, "ohms") for pair in combinations(changed_addresses(van.ground.wired), 2)]
    probes = dict.fromkeys((*dead_probes(van.ground.wired), *pairs))
    exposure = exposer.expose(list(probes), list(van.slips.values()))
    compared = 0
    for name, edit in exposure.edits.items():
        test = MeterTest(
            0, "", "dead", "", (), "", "ohms", "", "", "", 0.0, 0.0, 0.0, "ohm", "dark", (), (), ""
        )
        net = DeadNet(dead_branches(branches_with(van, test, edit)))
        for probe in exposure.wrong:
            if name in exposure.wrong[probe]:
                exact, reckoned = net.ohms(probe.at, probe.to), exposure.wrong[probe][name]
                assert reckoned == pytest.approx(exact, rel=0.02, abs=0.01) or (
                    reckoned == inf and exact > 3e3
                )
                compared += 1
    assert compared > 50


def test_an_open_reading_across_leds_says_where_the_plus_of_the_meter_goes() -> None:
    """Three in a row on the highest range of a pointer meter; two such rows head to tail leave no way."""
    leds = Branch(("load", "lamp", "tail lamp"), "58", "earth", Junction(6.0, 30.0))

    def is_open(ohms: float) -> bool:
        return isinf(as_read(ohms))

    other = leds._replace(a="earth", b="58")
    assert Blocked([leds], frozenset()).plus("58", "earth", is_open) == "earth"
    assert Blocked([leds, other], frozenset()).plus("58", "earth", is_open) is None


@pytest.mark.parametrize(("ohms", "shows"), [(0.05, "lit"), (15.0, "dim"), (300.0, "dark")])
def test_a_lamp_behind_a_poor_joint_is_dark_where_a_meter_shows_volts(ohms: float, shows: str) -> None:
    feed = Branch(("source",), "live", "earth", Emf(12.6, 0.02))
    joint = Branch(("wire",), "live", "point", Resistance(ohms))
    meter = Branch(("meter",), "point", "earth", Resistance(1e7))
    lamp = Branch(("lamp",), "point", "earth", Filament(12.0, TEST_LAMP_WATTS / 12.0))
    assert solve([feed, joint, meter], "earth").volts["point"] > 12.5
    assert says(solve([feed, joint, lamp], "earth").across(lamp), 12.0) == shows


def test_what_a_mistake_cuts_off_falls_to_nothing_though_it_carried_no_current() -> None:
    feed = Branch(("source",), "live", "earth", Emf(12.6, 0.02))
    wires = [
        Branch(("wire", n), *n.split("-"), Resistance(0.008)) for n in ("live-one", "one-two", "two-tip")
    ]
    point = solve([feed, *wires], "earth")
    net = Around([feed, *wires], point.volts, "earth", ["loose"])
    cut = [[(wire.a, wire.b, -125.0), (wire.a, "loose", 125.0)] for wire in wires]
    assert volts_with(net, [("tip", "earth")], cut) == pytest.approx(0.0, abs=0.02)
    assert volts_with(net, [("tip", "earth")], [[("live", "two", 125.0)]]) == pytest.approx(12.6, abs=0.02)
