"""An alternator in place of the dynamo of the whole van, its regulator out: no shipped job, but a common one.

With the engine turning and the ignition off its charge lamp joins the live net to all that ignition feeds,
so that every load hangs on the switches of all the others. By hand: the lead from B+ to the battery carries
all 45 A where the battery is flat, more than the 6 mm2 of the old one stand (38 A), so it is laid in the next
size that does, 10 mm2. All that the van takes, 36.5 A, goes by the old armature lead: its 4 mm2 do not stand
that (29.8 A), the 6 mm2 of the lead to the dash, which it meets, do.
"""

from functools import lru_cache

from planner.engine.packs import installed_rules
from planner.model.job import Job, Swap, Wish
from planner.model.plan import Plan
from planner.pipeline import open_catalogue, plan
from planner.reading.catalogue import read_loom


@lru_cache(maxsize=1)
def planned() -> Plan:
    catalogue = open_catalogue()
    loom = read_loom("skarrow-8", catalogue)
    swaps = (Swap(at="bay.dynamo", fit="alternator-45"), Swap(at="bay.regulator", fit="nothing"))
    accepts = (Wish.model_validate({"what": "dynamo field", "is": "off"}),)
    job = Job(job="van-alternator", loom=loom.loom, swaps=swaps, accepts=accepts)
    return plan(job, loom, catalogue, installed_rules())


def test_it_charges() -> None:
    (line,) = [s for s in planned().strains if s.kind == "not-charging"]
    assert not line.is_over and line.value > 30


def test_all_that_carries_its_amps_is_laid_in_the_next_size() -> None:
    laid = {s.fields["wire"]: s.fields["mm2"] for s in planned().steps if s.do in ("renew", "add")}
    assert laid == {"W4": 10, "W6": 6}


def test_nothing_that_can_burn_is_left() -> None:
    assert [s.text for s in planned().strains if s.is_over and s.is_new and s.is_dangerous] == []
