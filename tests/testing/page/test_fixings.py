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
