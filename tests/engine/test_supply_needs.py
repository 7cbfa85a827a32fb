"""A change of supply is an operation, and every part that the job leaves in its place is a need."""

from typing import Any

import pytest
from choice import make_part

from planner.engine.needs import NeedFinder, swap_operations
from planner.model.catalogue import Catalogue
from planner.model.delta import ChangeSupply, Fit
from planner.model.job import Job
from planner.model.loom import Loom, Supply
from planner.model.need import Need, OtherPole, OtherVolts

LOOM = Loom.model_validate(
    {
        "loom": "tiny",
        "supply": {"volts": 6, "earthed": "positive"},
        "zones": {"z": {}},
        "places": {name: {"part": "old", "zone": "z"} for name in "pqr"},
    }
)
CATALOGUE = Catalogue({}, {}, {"old": make_part("old", "abc"), "new": make_part("new", "abc")}, {}, {}, {})


def job(supply: dict[str, Any] | None, **more: Any) -> Job:
    return Job.model_validate({"job": "j", "loom": "tiny", "supply": supply, **more})


def needs(some: Job, *operations: Fit) -> list[Need]:
    loom = LOOM
    for operation in (*swap_operations(LOOM, some, CATALOGUE.parts), *operations):
        loom = operation.apply(loom)
    return list(NeedFinder(LOOM, CATALOGUE, some).kept_parts(loom))


def test_the_supply_is_changed_before_anything_else() -> None:
    some = job({"volts": 12, "earthed": "negative"}, swaps=[{"at": "p", "fit": "new"}])
    first, *others = swap_operations(LOOM, some, CATALOGUE.parts)
    assert first == ChangeSupply(Supply(volts=12, earthed="negative"), LOOM.supply)
    assert [operation.do for operation in others] == ["remove", "fit"]


@pytest.mark.parametrize("supply", [None, {"volts": 6, "earthed": "positive"}])
def test_a_supply_that_stays_is_no_work_and_no_need(supply: dict[str, Any] | None) -> None:
    assert list(swap_operations(LOOM, job(supply), CATALOGUE.parts)) == []
    assert needs(job(supply)) == []


def test_each_part_that_stays_is_asked_about_for_its_volts_and_then_for_its_pole() -> None:
    assert needs(job({"volts": 12, "earthed": "negative"})) == [
        *(OtherVolts(place) for place in "pqr"),
        *(OtherPole(place) for place in "pqr"),
    ]


def test_only_what_changes_is_asked() -> None:
    assert needs(job({"volts": 12, "earthed": "positive"})) == [OtherVolts(place) for place in "pqr"]
    assert needs(job({"volts": 6, "earthed": "negative"})) == [OtherPole(place) for place in "pqr"]


def test_a_part_that_the_job_changes_or_takes_out_is_not_asked_about() -> None:
    swaps = [{"at": "p", "fit": "new"}, {"at": "q", "fit": "nothing"}]
    assert needs(job({"volts": 12, "earthed": "positive"}, swaps=swaps)) == [OtherVolts("r")]


def test_a_part_that_a_rule_has_replaced_is_not_asked_about_any_more() -> None:
    old = LOOM.places["p"]
    fit = Fit("p", old.model_copy(update={"part": "new"}), old)
    assert needs(job({"volts": 6, "earthed": "negative"}), fit) == [OtherPole("q"), OtherPole("r")]
