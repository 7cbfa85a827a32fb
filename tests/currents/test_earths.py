"""What a load loses on its way to earth: by mounting, zone and wire, never by a switch in its return."""

from functools import lru_cache

import pytest

from planner.currents.checks import earths
from planner.currents.checks.inspection import Inspection
from planner.currents.currents import Currents
from planner.model.catalogue import Catalogue
from planner.model.delta import copy_loom
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.strain import Strain
from planner.pipeline import open_catalogue
from planner.proof.prove import Prover
from planner.reading.catalogue import read_loom

LAMP = "bay.inspection-lamp"


@lru_cache
def catalogue() -> Catalogue:
    return open_catalogue()


def inspection(loom: Loom) -> Inspection:
    job = Job.model_validate({"job": "look", "loom": loom.loom})
    return Currents(Prover(loom, catalogue(), job)).inspection(loom)


def lost(loom: Loom, place: str = LAMP) -> Strain:
    (found,) = [strain for strain in earths.strains(inspection(loom)) if strain.at == place]
    return found


def nose(**place: object) -> Loom:
    """The loom of the rusty nose, its one lamp fitted otherwise."""
    loom = read_loom("skarrow-8-rusty-nose", catalogue())
    fitted = loom.places[LAMP].model_copy(update=place)
    return copy_loom(loom, places={**loom.places, LAMP: fitted})


def test_a_sound_mounting_loses_little_and_says_no_way() -> None:
    strain = lost(nose())
    assert 0.001 < strain.value < 0.02 and not strain.is_over and strain.path == ()
    assert (strain.limit, strain.unit) == (0.1, "V") and "per section" in strain.source


def test_a_mounting_that_was_measured_loses_its_ohms_times_the_lamp_s_amps() -> None:
    loom = nose(earth_ohms=0.3)
    seen = inspection(loom)
    amps = seen.peaks[seen.survey.grid.loads[LAMP, "sorting light"]].amps
    strain = lost(loom)
    assert strain.value == pytest.approx(0.3 * amps + lost(nose()).value - 0.005 * amps, rel=0.02)
    assert strain.is_over
    assert strain.path == (f"{LAMP}:case", "earth:bay", "bay.battery:-")
    assert strain.loads == ((LAMP, "sorting light"),)


def test_a_zone_that_was_measured_counts_on_the_way_to_the_battery_s_zone() -> None:
    strain = lost(nose(zone="front"))
    assert strain.value > 0.2
    assert strain.path == (f"{LAMP}:case", "earth:front", "earth", "earth:bay", "bay.battery:-")


def test_with_the_positive_pole_earthed_the_same_is_lost() -> None:
    loom = nose(earth_ohms=0.3)
    positive = copy_loom(loom, supply=loom.supply.model_copy(update={"earthed": "positive"}))
    assert lost(positive).value == pytest.approx(lost(loom).value, rel=1e-6)
    assert lost(positive).path == lost(loom).path


def test_what_a_switch_in_the_return_loses_is_not_lost_to_earth() -> None:
    """The horn is earthed by its push: only what lies between the push and the body counts."""
    loom = read_loom("skarrow-8-headlamps", catalogue())
    strain = lost(loom, "bay.horn")
    assert strain.value == 0 or strain.value < 0.05
    push = loom.places["column.horn-push"].model_copy(update={"earth_ohms": 1.0})
    worse = copy_loom(loom, places={**loom.places, "column.horn-push": push})
    assert lost(worse, "bay.horn").value > 1.0
    assert lost(worse, "bay.horn").path[0] == "column.horn-push:case"


def test_a_starter_and_what_only_runs_with_a_generator_are_left_out() -> None:
    van = read_loom("skarrow-8", catalogue())
    places = {strain.at for strain in earths.strains(inspection(van))}
    assert "bay.starter" not in places and "bay.dynamo" not in places
    assert {"bay.starter", "bay.dynamo"} <= set(van.places) and len(places) > 20
