"""A sheet and a meter page show no other plans, so none is worked out for them; the plan is the same."""

import pytest
from planned import catalogue, planned

from planner.engine.packs import installed_rules
from planner.pipeline import settled
from planner.reading.catalogue import read_job


@pytest.mark.parametrize("name", ["interior-lamp-without-earth", "dip-relay-five-to-four"])
def test_what_stands_beside_a_plan_changes_nothing_of_it(name: str) -> None:
    whole = planned(name)
    job, loom = read_job(name, catalogue())
    alone = settled(job, loom, catalogue(), installed_rules(), with_alternatives=False).plan
    assert whole.alternatives != () == alone.alternatives
    beside = ("alternatives", "proof")  # of the proof how many looms were judged, and the time
    said = [{key: told for key, told in p.as_json().items() if key not in beside} for p in (whole, alone)]
    assert said[0] == said[1]
    assert alone.proof.looms <= whole.proof.looms
