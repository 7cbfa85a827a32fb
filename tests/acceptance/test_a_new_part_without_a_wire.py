"""A part in a new place that the plan leaves without a wire is not settled: as planned it does nothing."""

import pytest

from planner.engine.packs import installed_rules
from planner.model.job import Job, Swap
from planner.model.plan import Plan
from planner.pipeline import open_catalogue, plan
from planner.reading.catalogue import read_loom


def with_new(part: str, loom: str, zone: str) -> Plan:
    catalogue = open_catalogue()
    before = read_loom(loom, catalogue)
    swap = Swap(at=f"{zone}.new", fit=part, zone=zone, mounting="metal", title="new part")
    return plan(Job(job="new", loom=loom, swaps=(swap,)), before, catalogue, installed_rules())


@pytest.mark.parametrize("part", ["battery-isolator-one-pole", "fog-lamp"])
def test_a_part_that_nothing_is_joined_to_is_not_settled(part: str) -> None:
    made = with_new(part, "skarrow-8", "bay")
    assert made.verdict == "unsettled"
    assert made.unsettled == ("new part has no wire on any terminal: as planned it does nothing",)


def test_one_that_gets_its_wires_is_settled() -> None:
    made = with_new("electric-fan-40", "skarrow-8", "bay")
    assert made.unsettled == () and any(step.do == "add" for step in made.steps)
