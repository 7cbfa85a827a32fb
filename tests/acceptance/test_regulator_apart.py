"""A dynamo with its regulator apart, in place of one that has it on top: no shipped job, but a common one.

By hand: the lead that charges the battery goes from the old dynamo's output on the regulator, never by way of
a fuse. Armature and field get a wire each, the regulator an earth. The dynamo is polarised to the vehicle.
"""

from functools import lru_cache

from planned import made, moved, pair

from planner.engine.packs import installed_rules
from planner.model.job import Job, Swap
from planner.model.plan import Plan
from planner.pipeline import open_catalogue, plan
from planner.reading.catalogue import read_loom


@lru_cache(maxsize=1)
def planned() -> Plan:
    catalogue = open_catalogue()
    loom = read_loom("ternholm-nine", catalogue)
    swaps = (
        Swap(at="bay.dynamo", fit="dynamo-two-brush"),
        Swap(at="bay.regulator", fit="regulator-with-cut-out", zone="bay", mounting="metal"),
    )
    return plan(Job(job="apart", loom=loom.loom, swaps=swaps), loom, catalogue, installed_rules())


def test_the_charging_lead_goes_on_the_regulator() -> None:
    assert moved(planned()) == {("C4", "bay.dynamo:B", "bay.regulator:A")}


def test_armature_field_and_earth_are_the_wires_to_make() -> None:
    assert set(made(planned())) == {
        pair("bay.dynamo:D", "bay.regulator:D"),
        pair("bay.dynamo:F", "bay.regulator:F"),
        pair("bay.regulator:E", "earth:bay"),
    }


def test_the_dynamo_is_to_be_polarised() -> None:
    assert "dynamo-at-other-pole" in {remark.because for remark in planned().remarks}
    assert planned().verdict == "no-loss"
