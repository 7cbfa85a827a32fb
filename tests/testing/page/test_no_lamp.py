"""Where no test lamp goes: electronics, gauges and their senders, the ignition."""

import pytest
from metered import metered

from planner.currents.grid import BODY
from planner.sheets.build.meter_words import lamp_words
from planner.testing.page.judging import judge
from planner.testing.page.lamp import on_own_battery
from planner.testing.page.no_lamp import Delicate
from planner.testing.page.probes import Probe


@pytest.mark.parametrize(
    ("job", "tip", "stage"),
    [
        ("led-rear-lamps", "dash.flasher:L", "dead"),  # its own battery may destroy light-emitting diodes
        ("fuel-gauge-of-another-year", "rear.tank-sender:S", "dead"),  # nor through a sender in a tank
        ("fuel-gauge-of-another-year", "dash.fuel-gauge:F", "live"),
        ("ballast-coil", "bay.coil:CB", "live"),
    ],
)
def test_no_lamp_goes_on_what_it_might_harm(job: str, tip: str, stage: str) -> None:
    tests = [t for t in metered(job).page.tests if tip in (t.at, t.to) and t.stage == stage]
    assert tests and {test.lamp for test in tests} == {"none"}
    assert "no lamp" in lamp_words(tests[0])
    assert judge(tests[0], "lit", "lit").verdict == "cannot tell"


def test_on_lamps_motors_and_wires_it_does() -> None:
    assert "none" not in {test.lamp for test in metered("two-speed-wipers").page.tests}
    live = [test for test in metered("led-rear-lamps").page.tests if test.stage == "live"]
    assert live and "none" not in {test.lamp for test in live}  # beside what is fed a lamp does no harm


def test_no_lamp_drives_its_current_through_a_gauge_beyond_the_fuse_box() -> None:
    """From a wiper motor's feed the fuse box leads on to the gauge and the sender in the tank."""
    ground = metered("whole-van").ground
    delicate = Delicate(ground.wired.loom, ground.catalogue.parts)
    at = Probe("scuttle.wiper-motor:53a", BODY, "ohms")
    assert on_own_battery(ground.exposer, [at], 12.0, delicate) == ["none"]
