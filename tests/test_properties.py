"""What holds for the plan of any job: undone, made again, made for nothing, told in other names."""

from collections import Counter
from collections.abc import Mapping

import pytest
from generated_looms import PLACE, Drawn, catalogue, looms, planned, renamed, settled
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from planner.model.delta import copy_loom
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.plan import Plan
from planner.reading.catalogue import read_job

few = settings(max_examples=30, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
JOBS = sorted(catalogue().job_files)
WORK = ("move", "add", "cover", "cut", "piggyback", "join", "re-end", "extend", "insert", "hold")


def work_of(plan: Plan) -> list[str]:
    """What a plan does besides taking out and fitting."""
    return [step.text for step in plan.steps if step.do in WORK]


def outcomes(plan: Plan, names: Mapping[str, str] | None = None) -> Counter[tuple[object, ...]]:
    """What becomes of every behaviour in every position, places called by their first names."""
    back = {new: old for old, new in (names or {}).items()}

    def label(variable: str) -> str:
        place, slash, name = variable.rpartition("/")
        return back.get(place, place) + slash + name

    return Counter(
        (
            line.what,
            back.get(line.at, line.at),
            line.outcome,
            line.before,
            line.after,
            frozenset(frozenset((label(n), v) for n, v in p.items()) for p in line.positions),
        )
        for line in plan.behaviours
    )


def swapped_for_itself(loom: Loom, *places: str) -> Job:
    """A job that fits at some places the parts that are there."""
    swaps = [{"at": at, "fit": loom.places[at].part} for at in places]
    return Job.model_validate({"job": "same", "loom": loom.loom, "swaps": swaps})


# -- undone --------------------------------------------------------------------------------------------------


def restores(job: Job, loom: Loom) -> bool:
    candidate = settled(job, loom).chosen.candidate
    after = candidate.loom
    for step in reversed(candidate.steps):
        after = step.operation.undo(after)
    return after == loom


@few
@given(looms(is_whole=False))
def test_undoing_the_steps_of_a_plan_in_reverse_restores_the_loom(drawn: Drawn) -> None:
    assert restores(drawn.job(drawn.new_part), drawn.loom)


@pytest.mark.parametrize("name", JOBS)
def test_undoing_a_shipped_job_in_reverse_restores_the_vehicle(name: str) -> None:
    assert restores(*read_job(name, catalogue()))


# -- made again ----------------------------------------------------------------------------------------------


@few
@given(looms())
def test_planning_a_settled_loom_again_proposes_nothing(drawn: Drawn) -> None:
    choice = settled(drawn.job(drawn.new_part), drawn.loom)
    assume(not choice.unsettled)
    after = choice.chosen.candidate.loom
    again = planned(swapped_for_itself(after, PLACE), after)
    assert work_of(again) == []


@pytest.mark.parametrize("name", JOBS)
def test_planning_a_shipped_job_again_on_what_it_made_proposes_nothing(name: str) -> None:
    job, loom = read_job(name, catalogue())
    after = settled(job, loom).chosen.candidate.loom
    again = planned(swapped_for_itself(after, *(s.at for s in job.swaps if s.at in after.places)), after)
    assert work_of(again) == []
    assert {line.outcome for line in again.behaviours} <= {"kept"}


# -- made for nothing ----------------------------------------------------------------------------------------


@few
@given(looms())
def test_a_part_swapped_for_its_like_is_no_work_and_everything_is_kept(drawn: Drawn) -> None:
    same = planned(drawn.job(), drawn.loom)
    assert work_of(same) == []
    assert {line.outcome for line in same.behaviours} <= {"kept"}
    assert same.verdict == "no-loss"


@few
@given(looms(is_whole=False))
def test_a_part_with_bare_terminals_swapped_for_its_like_loses_and_endangers_nothing(drawn: Drawn) -> None:
    """A bare terminal may be offered a wire; what worked goes on working."""
    same = planned(drawn.job(), drawn.loom)
    assert {line.outcome for line in same.behaviours} <= {"kept", "gained", "missing"}
    assert [hazard for hazard in same.hazards if not hazard.was_before] == []


def test_a_horn_kept_off_the_body_and_always_fed_is_not_earthed_when_it_is_swapped_for_its_like() -> None:
    """Its body is insulated from the bracket, so it is silent; an earth wire would make it sound for ever."""
    loom = Loom.model_validate(
        {
            "loom": "one-horn",
            "supply": {"volts": 12, "earthed": "negative"},
            "feeds": {"feed:30": {"role": "30", "fuse_amps": 15}},
            "zones": {"dash": {}},
            "places": {PLACE: {"part": "horn-earthed-by-body", "zone": "dash", "mounting": "insulated"}},
            "wires": [
                {"wire": "W1", "colour": "RD", "mm2": 1.5, "metres": 1, "ends": ["feed:30", f"{PLACE}:+"]}
            ],
        }
    )
    same = planned(swapped_for_itself(loom, PLACE), loom)
    assert [hazard.text for hazard in same.hazards if not hazard.was_before] == []
    assert work_of(same) == []


def test_every_part_of_the_van_swapped_for_its_like_at_once_is_no_work() -> None:
    _, loom = read_job("whole-van", catalogue())
    same = planned(swapped_for_itself(loom, *loom.places), loom)
    assert work_of(same) == []
    assert {line.outcome for line in same.behaviours} == {"kept"}
    assert [hazard for hazard in same.hazards if not hazard.was_before] == []


# -- in other names and another order ------------------------------------------------------------------------


def same_plan(one: Plan, other: Plan, names: Mapping[str, str]) -> bool:
    assert (other.verdict, other.road, other.minutes) == (one.verdict, one.road, one.minutes)
    assert outcomes(other, names) == outcomes(one)
    assert len(other.steps) == len(one.steps)
    assert len(other.questions) == len(one.questions)
    return True


@few
@given(looms(is_whole=False), st.sampled_from(["a.thing", "zz.zz", "thing"]))
def test_renaming_places_changes_nothing_but_names(drawn: Drawn, name: str) -> None:
    job = drawn.job(drawn.new_part)
    names = {place: f"z-{place}" for place in drawn.loom.places} | {PLACE: name}
    loom, called = renamed(drawn.loom, job, names)
    assert same_plan(planned(job, drawn.loom), planned(called, loom), names)


@few
@given(looms(is_whole=False), st.randoms(use_true_random=False))
def test_the_order_of_wires_and_places_changes_nothing(drawn: Drawn, chance: object) -> None:
    job = drawn.job(drawn.new_part)
    wires, places = list(drawn.loom.wires), list(drawn.loom.places.items())
    chance.shuffle(wires)  # type: ignore[attr-defined]
    chance.shuffle(places)  # type: ignore[attr-defined]
    mixed = copy_loom(drawn.loom, wires=tuple(wires), places=dict(places))
    assert same_plan(planned(job, drawn.loom), planned(job, mixed), {})


SMALL_JOBS = ("two-speed-wipers", "horn-and-push", "fuse-box-mirrored", "dip-relay-five-to-four")


@pytest.mark.parametrize("name", SMALL_JOBS)
def test_a_shipped_job_on_a_vehicle_written_backwards_comes_out_the_same(name: str) -> None:
    job, loom = read_job(name, catalogue())
    backwards = copy_loom(loom, wires=loom.wires[::-1], places=dict(reversed(loom.places.items())))
    assert same_plan(planned(job, loom), planned(job, backwards), {})
