"""What no reading shows is looked at before the battery goes on, and no sheet goes without the notes."""

import pytest
from planned import JOBS, catalogue

from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench_meter import dead_tests, live_tests
from planner.sheets.sheet import Listing


@pytest.mark.parametrize("job", JOBS)
def test_what_no_reading_shows_has_a_box_before_first_power(job: str) -> None:
    bench = sheet_job(job, catalogue())
    assert bench.meter is not None
    before = dead_tests(bench)
    items = [item for block in before if isinstance(block, Listing) for item in block.items]
    looked = [item.body.text for item in items if item.tick.startswith("#look")]
    assert looked == list(bench.meter.untested)
    told = [item.body.text for item in items if not item.tick]
    assert told == (list(bench.meter.notes) if bench.meter.tests else [])
    after = [item for block in live_tests(bench) if isinstance(block, Listing) for item in block.items]
    assert all(item.tick.startswith("#meter") for item in after)
