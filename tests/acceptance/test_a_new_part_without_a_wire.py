"""A part in a new place that the plan leaves without a wire is not settled: as planned it does nothing."""

import pytest

from planner.engine.packs import installed_rules
from planner.model.job import Job, Swap
from planner.model.plan import Plan
from planner.pipeline import open_catalogue, plan
from planner.reading.catalogue import read_loom


def with_new(part: str, loom: str, zone: str, *beside: str) -> Plan:
    catalogue = open_catalogue()
    before = read_loom(loom, catalogue)
    named = {f"{zone}.new": part, **{f"{zone}.{other}": other for other in beside}}
    swaps = tuple(
        Swap(at=at, fit=fit, zone=zone, mounting="metal", title="new part" if fit == part else None)
        for at, fit in named.items()
    )
    return plan(Job(job="new", loom=loom, swaps=swaps), before, catalogue, installed_rules())


@pytest.mark.parametrize("part", ["battery-isolator-one-pole", "fog-lamp"])
def test_a_part_that_nothing_is_joined_to_is_not_settled(part: str) -> None:
    made = with_new(part, "skarrow-8", "bay")
    assert made.verdict == "unsettled"
    assert made.unsettled == ("new part has no wire on any terminal: as planned it does nothing",)


def test_of_a_switch_with_like_sides_it_is_said_what_is_to_be_decided() -> None:
    (said,) = with_new("in-line-switch-10", "skarrow-8", "bay").unsettled
    assert "'in' and 'out' are the same to it, so either may be the feed" in said and "'wants'" in said


def test_one_that_gets_its_wires_is_settled() -> None:
    made = with_new("electric-fan-40", "skarrow-8", "bay")
    assert made.unsettled == () and any(step.do == "add" for step in made.steps)


def test_a_second_battery_is_no_consumer_of_a_fuse_box() -> None:
    made = with_new("battery-12v", "vessing-m14", "cab")
    assert made.verdict == "unsettled" and [step.do for step in made.steps] == ["fit"]
    (remark,) = [r.text for r in made.remarks if r.because == "battery-in-a-new-place"]
    assert "battery selector or a split-charge relay" in remark and "(25 mm2)" in remark


def test_a_part_that_watches_more_than_it_can_is_not_settled() -> None:
    made = with_new("bulb-check-unit", "skarrow-8", "dash", "bulb-check-lamp")
    (said,) = made.unsettled  # all the side lamps of the van hold the coil that is made for two
    assert said.startswith("new part: it notices no lamp that fails. 8 are behind it")


def test_a_terminal_that_has_to_be_fed_is_fed_though_its_housing_covers_it() -> None:
    catalogue = open_catalogue()
    before = read_loom("skarrow-8", catalogue)
    swap = Swap(at="rear.trailer-socket", fit="trailer-socket-7-converter")
    made = plan(Job(job="new", loom="skarrow-8", swaps=(swap,)), before, catalogue, installed_rules())
    added = [{step.fields["from"], step.fields["to"]} for step in made.steps if step.do == "add"]
    assert added == [{"dash.fuse-box:1", "rear.trailer-socket:30"}]
    assert made.verdict == "no-loss"
