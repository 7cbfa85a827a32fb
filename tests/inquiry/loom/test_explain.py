"""The shipped looms are explained as a person would, and a job by what it swaps."""

import pytest
from planned import catalogue

from planner.inquiry.loom.explain import explain, swap_lines
from planner.model.job import Job
from planner.reading.catalogue import read_job, read_loom


@pytest.mark.parametrize("name", sorted(catalogue().loom_files))
def test_every_load_of_a_shipped_loom_that_works_is_fed_in_some_way(name):
    found = explain(read_loom(name, catalogue()), catalogue())
    never = [line for line in found.loads if not line.works]
    assert {line.what for line in never} <= {"bulb check warning lamp"}  # it lights when a lamp has failed
    assert [f.at for f in found.findings if f.kind == "never-works"] == [line.at for line in never]
    parked = [line for line in found.loads if line.what.startswith("park ")]
    assert [line.what for line in found.loads if not line.ways and line not in (*never, *parked)] == []
    assert not any(text == "" for line in found.loads for _, text in line.works)


def test_the_heater_fan_behind_an_ammeter_on_positive_earth_is_fed_through_its_own_switch():
    found = explain(read_loom("ternholm-nine", catalogue()), catalogue())
    (fan,) = (line for line in found.loads if line.at == "bay.fan")
    (way,) = fan.ways
    assert way.through[-2:] == ("the key switch (30 to 15)", "the fan switch ('in' to 'out')")
    assert way.earth == "by black (C10)"


def test_the_shared_indicator_lamp_is_earthed_through_the_lamps_of_the_other_side():
    found = explain(read_loom("skarrow-8", catalogue()), catalogue())
    (lamp,) = (line for line in found.loads if line.what == "turn indicator lamp")
    assert {way.when for way in lamp.ways} == {
        "with the turn switch at left",
        "with the turn switch at right",
    }
    assert all("front turn lamp" in way.earth for way in lamp.ways)


def test_the_colours_of_the_trailer_socket_contradict_those_of_the_van():
    found = explain(read_loom("skarrow-8-trailer", catalogue()), catalogue())
    assert [line.at for line in found.findings if line.kind == "colour"] == ["T7"]


def test_a_job_is_told_by_what_goes_out_and_what_comes_in():
    job, loom = read_job("two-speed-wipers", catalogue())
    assert [(line.at, line.old[:27], line.new[:26]) for line in swap_lines(job, loom, catalogue())] == [
        ("dash.wiper-switch", "Wiper switch, early, one sp", "Wiper switch, late, two sp"),
        ("scuttle.wiper-motor", "Wiper motor, early, one spe", "Wiper motor, late, two spe"),
    ]


def test_a_new_place_has_nothing_to_take_out_and_a_removal_nothing_to_put_in():
    loom = read_loom("skarrow-8-turn-signals", catalogue())
    swaps = [
        {"at": "dash.new", "fit": "turn-lamp", "title": "new lamp"},
        {"at": "dash.flasher", "fit": "nothing"},
    ]
    job = Job.model_validate({"job": "x", "loom": loom.loom, "swaps": swaps})
    new, gone = swap_lines(job, loom, catalogue())
    assert (new.title, new.old, new.new != "") == ("new lamp", "", True)
    assert (gone.title, gone.old != "", gone.new) == ("flasher unit, behind the dash", True, "")
