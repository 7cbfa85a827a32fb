"""The trade's line 24: a hydraulic stop switch carries few amps and closes late; common practice, no source.

By hand: two lamps of 21 W at 12 V take 2 x 1.75 = 3.5 A; a switch for 6 A is good for a fifth of that, 1.2 A,
where it switches lamps, which take many times their amps while they are cold.
"""

import pytest
from planned import catalogue

from planner.engine.packs import installed_rules
from planner.model.delta import copy_loom
from planner.model.job import Job, Swap
from planner.model.plan import Plan
from planner.pipeline import plan
from planner.reading.catalogue import read_loom

AT = "bay.stop-switch"
HYDRAULIC, MECHANICAL = "stop-switch-hydraulic", "stop-switch-mechanical"


def exchanged(old: str, new: str) -> Plan:
    loom = read_loom("skarrow-8-lamp-fuses", catalogue())
    fitted = loom.places[AT].model_copy(update={"part": catalogue().parts[old].part})
    before = copy_loom(loom, places={**loom.places, AT: fitted})
    job = Job(job="stop-switch", loom=loom.loom, swaps=(Swap(at=AT, fit=new),))
    return plan(job, before, catalogue(), installed_rules())


def test_line_24_both_stop_lamps_are_too_much_for_it() -> None:
    made = exchanged(MECHANICAL, HYDRAULIC)
    (contact,) = (s for s in made.strains if s.kind == "contact" and s.at == f"{AT}:out")
    assert contact.is_new and contact.limit == pytest.approx(1.2)
    assert contact.value == pytest.approx(3.5, rel=0.02)


def test_what_wears_a_contact_is_told_and_what_passes_its_whole_rating_is_in_the_verdict() -> None:
    """At 6 V two lamps of 21 W take 7 A: a switch for 6 A fails, and stop lamps hang on it."""
    assert exchanged(MECHANICAL, HYDRAULIC).verdict == "no-loss"
    loom = read_loom("holmgarth-30", catalogue())
    job = Job(job="stop-switch", loom=loom.loom, swaps=(Swap(at="dash.stop-switch", fit=HYDRAULIC),))
    made = plan(job, loom, catalogue(), installed_rules())
    (contact,) = (s for s in made.strains if s.kind == "contact" and s.at == "dash.stop-switch:out")
    assert contact.value == pytest.approx(7.0, rel=0.02) and not contact.is_wearing
    assert "more than the whole of it" in contact.text
    assert made.verdict == "losses" and made.road == "no"
    assert any("stop lamp switch switches" in why for why in made.road_why)


def test_line_24_that_it_closes_late_is_told() -> None:
    assert any("closes late" in remark.text for remark in exchanged(MECHANICAL, HYDRAULIC).remarks)


def test_a_switch_at_the_pedal_carries_them_and_closes_at_once() -> None:
    made = exchanged(HYDRAULIC, MECHANICAL)
    assert not any(s.kind == "contact" and s.at.startswith(AT) for s in made.strains)
    assert made.verdict == "no-loss" and any("closes at once" in remark.text for remark in made.remarks)
