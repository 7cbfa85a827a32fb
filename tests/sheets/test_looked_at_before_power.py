"""What no reading shows is looked at before the battery goes on, and no sheet goes without the notes."""

import pytest
from planned import JOBS, catalogue

from planner.sheet_pipeline import sheet_job
from planner.sheets.build.bench import bench_sheet
from planner.sheets.build.bench_meter import dead_tests, live_tests
from planner.sheets.render.markdown import as_markdown
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
    last = [item.tick for item in after if not item.tick.startswith("#meter")]
    assert last == (["#shrink 1"] if bench.shrunk_last and bench.meter.tests else [])


def test_a_blown_fuse_and_a_relay_of_another_fuse_are_thought_of() -> None:
    said = as_markdown(bench_sheet(sheet_job("electric-fan", catalogue())))
    assert "nothing is read, look at the fuse of that way before anything else" in said
    assert "for a relay put the fuse of its coil in as well" in said


def test_the_charge_lamp_lights_before_the_start_and_goes_out() -> None:
    said = as_markdown(bench_sheet(sheet_job("dynamo-to-alternator", catalogue())))
    assert "lit with the key on before the start, out as the engine speeds up" in said


def test_a_thin_wire_that_was_replaced_has_a_box_of_its_own() -> None:
    said = as_markdown(bench_sheet(sheet_job("fan-in-a-bundle", catalogue())))
    first_power = said.partition("## First power")[2].partition("\n## ")[0]
    assert "- [ ] Step 3: the old wire is off at both ends, drawn out, or tied back" in first_power


@pytest.mark.parametrize(
    ("job", "steps"),
    [("launch-led-navigation-lamps", True), ("launch-bilge-pump", True), ("electric-fan", False)],
)
def test_what_stays_open_for_the_tips_is_shrunk_after_the_last_test(job: str, steps: bool) -> None:
    bench = sheet_job(job, catalogue())
    sheet = as_markdown(bench_sheet(bench))
    assert ("only those leads are read that first power names" in sheet) is bool(bench.leads)
    full_power = sheet.partition("## Meter page: at full power")[2]
    assert ("the glue of the joiner" in full_power.rpartition("reads: ")[2].partition("\n## ")[0]) is steps
    said = {n for n in bench.shrunk_last if "shrink its glue only when" in bench.step(n).text}
    assert said == set(bench.shrunk_last) and bool(said) is steps
