"""Looms that chatter, race, short and share: what a page shows of each is true."""

import pytest
from beside import Beside, throws
from odd_looms import (
    ALL,
    BALANCED,
    BRIDGED,
    CHATTERING,
    IN_ROW,
    ONE_BY_THE_OTHER,
    RACING,
    SHORTED,
    TWICE_EARTHED,
)
from small_looms import Bench
from walker import AFTER, BEFORE, Walker

from planner.live.page_states import page_states
from planner.model.page_states import LiveRow, PageStates
from planner.proof.hazards import ties_sources


def _states(bench: Bench) -> PageStates:
    return page_states(bench.loom, bench.loom, bench.catalogue)


def _switched_on(bench: Bench) -> tuple[PageStates, Walker]:
    states = _states(bench)
    walker = Walker(states, AFTER)
    walker.throw(states.controls[0], states.controls[0].detents[1])
    return states, walker


def _row(rows: tuple[LiveRow, ...], name: str) -> LiveRow:
    return next(row for row in rows if row.name == name)


@pytest.mark.parametrize("name", ALL)
def test_every_look_of_an_odd_loom_is_true(name: str) -> None:
    states = _states(ALL[name])
    beside = Beside(states, ALL[name].loom, BEFORE, 1, ALL[name].catalogue)
    for control, detent in throws(states, seed=1):
        beside.throw(control, detent)
        for _, row, true in beside.truths():
            assert beside.page.words(row) == true, row.name


def test_a_relay_through_its_own_break_contact_chatters() -> None:
    states, walker = _switched_on(CHATTERING)
    assert walker.words(_row(states.loads, "lamp/shine")) == {"chatters"}


def test_relays_that_lock_each_other_out_depend_on_which_pulls_first() -> None:
    states, walker = _switched_on(RACING)
    assert walker.words(_row(states.loads, "lamp/shine")) == {"depends on which pulls first"}


def test_a_short_sounds_an_alarm_as_long_as_it_is_there() -> None:
    states, walker = _switched_on(SHORTED)
    (alarm,) = [row for row in states.alarms if walker.sounds(row)]
    assert alarm.title.startswith("Short to earth at the fused side")
    walker.throw(states.controls[0], states.controls[0].detents[0])
    assert not walker.sounds(alarm)


@pytest.mark.parametrize("name", ALL)
def test_an_alarm_sounds_where_the_proof_finds_it_at_any_moment(name: str) -> None:
    bench, states = ALL[name], _states(ALL[name])
    walker = Walker(states, BEFORE)
    for control, detent in throws(states, seed=8):
        walker.throw(states.controls[control], states.controls[control].detents[detent])
        for key, event in bench.view.events.items():
            if key[0] in ("short", "tie", "unsettled") and not ties_sources(key):
                row = _row(states.alarms, " ".join(map(str, key)))
                setting = {bench.view.variable_number[c.name]: walker.at[c.before] for c in states.controls}
                starts = walker.starts[row.before.groups[0]] if row.before and row.before.groups else [()]
                assert walker.sounds(row) == any(event.appears(setting, start) is True for start in starts)


def test_lamps_in_a_row_share_what_comes_and_a_second_earth_takes_its_share() -> None:
    states, walker = _switched_on(IN_ROW)
    legs = {row.name: walker.words(row) for row in states.wires}
    assert legs == {name: {"carries current"} for name in legs} and len(legs) == 7
    states, walker = _switched_on(TWICE_EARTHED)
    assert (
        walker.words(_row(states.wires, "e1/0"))
        == walker.words(_row(states.wires, "e2/0"))
        == {"carries current"}
    )
    assert walker.words(_row(states.terminals, "lamp:a")) == {"live"}
    assert walker.words(_row(states.terminals, "lamp:b")) == {"earth"}


def test_a_leg_between_loads_that_give_and_loads_that_take_carries_the_difference() -> None:
    states, walker = _switched_on(BRIDGED)
    assert walker.words(_row(states.wires, "mid/1")) == {"carries current"}
    states, walker = _switched_on(BALANCED)
    legs = [walker.words(_row(states.wires, f"mid/{leg}")) for leg in range(3)]
    assert legs == [{"carries current"}, {"no current"}, {"carries current"}]


def test_relays_that_work_one_another_are_looked_up_together() -> None:
    states = _states(ONE_BY_THE_OTHER)
    look = _row(states.terminals, "one:87").after
    assert look and len(look.groups) == 1
    hidden = {states.variables[v] for v in states.groups[look.groups[0]].hidden}
    assert hidden == {"one/armature", "two/armature"}
