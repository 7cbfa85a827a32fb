"""A fitted part that is earthed through its case is measured from there to earth."""

import pytest
from metered import metered

from planner.currents.grid import BODY


@pytest.mark.parametrize(
    ("job", "case"),
    [
        ("hazard-flasher", "dash.hazard-switch:case"),
        ("hazard-flasher-insulated-panel", "dash.hazard-switch:case"),
        ("horn-and-push", "bay.horn:case"),
    ],
)
def test_a_case_that_is_an_earth_is_read_to_earth(job: str, case: str) -> None:
    (test,) = [t for t in metered(job).page.tests if (t.stage, t.at, t.to) == ("dead", case, BODY)]
    assert test.low == 0.0 and test.high < 0.6
    assert any(wrong.low >= test.high for wrong in test.wrong)


@pytest.mark.parametrize(
    ("job", "case"),
    [("lamp-on-a-poor-earth", "front.spot-lamp:case"), ("horn-and-push", "bay.horn:case")],
)
def test_a_case_that_is_an_earth_is_read_under_load(job: str, case: str) -> None:
    """What its part takes comes back there: next to no volts to the battery's earthed post."""
    (test,) = [t for t in metered(job).page.tests if (t.stage, t.at, t.to) == ("live", case, "bay.battery:-")]
    assert test.settings and test.low <= 0.0 and test.high < 0.8
    (first,) = [wrong for wrong in test.wrong if wrong.low == test.high]
    assert "through its fixing is poor" in first.words


def test_a_new_earth_wire_is_proven_by_the_current_of_what_it_earths() -> None:
    """The rusted nose has 0.3 ohm: 4.6 A without the wire leave more than a volt on the spot lamp's foot."""
    tests = [t for t in metered("lamp-on-a-poor-earth").page.tests if t.at == "front.spot-lamp:case"]
    said = " ".join(wrong.words for test in tests for wrong in test.wrong)
    assert "(new-earth..front+bay.battery..-) is off" in said and "was forgotten" in said


def test_a_panel_that_was_no_earth_before_is_read_to_the_battery_under_load() -> None:
    """On a cab that sits on rubber the wire to its roof ends nowhere: only the whole way back shows that."""
    live = [t for t in metered("tractor-to-12-volts-new-wiper").page.tests if t.stage == "live"]
    (test,) = [t for t in live if t.at.endswith("wiper:31") and t.to.endswith("battery:-")]
    assert test.settings and test.high < 0.8
    (first,) = [wrong for wrong in test.wrong if wrong.low == test.high]
    assert "cab roof has a poor way to the battery" in first.words
