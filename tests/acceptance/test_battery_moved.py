"""A battery moved to the back of a whole van: no shipped job, but a common one.

By hand: the same two main leads, drawn back to what they lead to in the engine bay, and longer by what they
lack from there. The way is 0.8 m to the dash and 1.1 m on; with 0.4 m within the zones and 15 % of slack it
is 2.65 m, of which they have 0.9 and 0.5 m, and 0.05 m to spare. The starter gets fewer volts by it.
"""

from functools import lru_cache

import pytest
from planned import moved

from planner.engine.packs import installed_rules
from planner.model.job import Job, Swap
from planner.model.plan import Plan
from planner.pipeline import open_catalogue, plan
from planner.reading.catalogue import read_loom


@lru_cache(maxsize=1)
def planned() -> Plan:
    catalogue = open_catalogue()
    loom = read_loom("skarrow-8", catalogue)
    swaps = (
        Swap(at="bay.battery", fit="nothing"),
        Swap(at="cab.battery", fit="battery-12v", zone="cab", mounting="insulated"),
    )
    return plan(Job(job="moved", loom=loom.loom, swaps=swaps), loom, catalogue, installed_rules())


def test_both_main_leads_go_on_the_posts_of_the_same_role() -> None:
    assert moved(planned()) == {
        ("W1", "bay.battery:+", "cab.battery:+"),
        ("W2", "bay.battery:-", "cab.battery:-"),
    }


def test_both_are_lengthened_by_what_they_lack_of_the_way() -> None:
    longer = {
        step.fields["wire"]: step.fields["by_metres"] for step in planned().steps if step.do == "extend"
    }
    assert longer == {"W1": pytest.approx(1.7, abs=0.05), "W2": pytest.approx(2.1, abs=0.05)}


def test_the_starter_is_told_to_get_fewer_volts() -> None:
    assert planned().verdict == "no-loss"
    (line,) = [s for s in planned().strains if s.kind == "drop" and s.at == "bay.starter" and s.is_over]
    assert line.before is not None and line.value > line.before * 1.15
