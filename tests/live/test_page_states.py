"""The states of a page against the vehicle worked one position at a time, throw by throw."""

from functools import lru_cache

import pytest
from beside import THROWS, Beside, looms_of, throws
from generated_looms import Drawn, looms
from hypothesis import given, settings
from planned import catalogue
from walker import AFTER, BEFORE, Walker, side_of

from planner.live.page_states import page_states
from planner.model.page_states import PageStates

JOBS = (
    "whole-van",
    "hazard-flasher-insulated-panel",
    "dip-relay-four-to-five",
    "changeover-relay-layout",
    "car-to-negative-earth",
    "tractor-to-12-volts",
    "led-indicators",
    "trailer-socket-converter",
    "regulator-of-three-units",
    "launch-two-speed-wiper",
    "minibus-courtesy-delay",
    "forestry-electronic-ignition",
)


@lru_cache
def _states(job: str) -> PageStates:
    return page_states(*looms_of(job), catalogue())


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("side", [BEFORE, AFTER], ids=["before", "after"])
def test_every_look_is_true_in_fifty_positions(job: str, side: int) -> None:
    states = _states(job)
    beside = Beside(states, looms_of(job)[side], side, seed=7)
    checked = 0
    for control, detent in throws(states, seed=11):
        beside.throw(control, detent)
        for _, row, true in beside.truths():
            assert beside.page.words(row) == true, (row.name, beside.truth.controls)
            checked += 1
    assert checked > THROWS * (len(states.terminals) + len(states.wires)) / 2


@settings(max_examples=25)
@given(looms())
def test_every_look_of_a_loom_around_one_part_is_true(drawn: Drawn) -> None:
    states = page_states(drawn.loom, drawn.loom, catalogue())
    beside = Beside(states, drawn.loom, BEFORE, seed=9)
    for control, detent in throws(states, seed=10):
        beside.throw(control, detent)
        for _, row, true in beside.truths():
            assert beside.page.words(row) == true, (row.name, beside.truth.controls)


def test_where_a_block_is_too_large_the_loads_are_shown_as_the_proof_finds_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("planner.live.page_states.MOST_LEAVES", 1)
    few = page_states(*looms_of("hazard-flasher-insulated-panel"), catalogue())
    assert few.not_shown and few.terminals == few.wires == few.potentials == ()
    whole = _states("hazard-flasher-insulated-panel")
    for side in (BEFORE, AFTER):
        walkers = [Walker(states, side) for states in (few, whole)]
        for control, detent in throws(whole, seed=2):
            for walker in walkers:
                walker.throw(walker.states.controls[control], walker.states.controls[control].detents[detent])
            for row, other in zip(few.loads, whole.loads, strict=True):
                if side_of(row, side) is not None:
                    assert walkers[0].words(row) == walkers[1].words(other), row.name


def test_the_controls_of_the_parts_that_are_exchanged_come_first() -> None:
    places = [control.name.partition("/")[0] for control in _states("whole-van").controls]
    swapped = {"dash.wiper-switch", "dash.hazard-switch", "cab.interior-lamp"}
    first = sum(place in swapped for place in places)
    assert first == 3
    assert swapped.issuperset(places[:first])


def test_a_dynamo_on_its_battery_is_no_alarm() -> None:
    """A tractor whose engine turns: both sources are live on one conductor, as they are meant to be."""
    assert [row.title for row in _states("tractor-to-12-volts").alarms if row.name.startswith("tie")] == []
