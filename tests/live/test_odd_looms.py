"""Looms that chatter, race, short and share: what a page shows of each is true."""

import pytest
from beside import Beside, throws
from small_looms import Bench, make_parts
from walker import AFTER, BEFORE, Walker

from planner.live.page_states import page_states
from planner.model.page_states import LiveRow, PageStates

PARTS = make_parts(
    """
    switch:
      terminals: {"30": "30", "58": "58"}
      inside:
        - control: {name: light, positions: ["off", "on"]}
        - contact: {join: ["30", "58"], when: {light: "on"}}
    relay:
      terminals: {"30": "30", "87": "", "87a": "", "86": "", "85": "31"}
      inside:
        - coil: {between: ["86", "85"], ohms: 80, pulls_in_v: 8, drops_out_v: 3, name: armature}
        - contact: {join: ["30", "87"], when: {armature: pulled}}
        - contact: {join: ["30", "87a"], when: {armature: released}}
    lamp:
      terminals: {a: "", b: ""}
      inside: [{lamp: {between: [a, b], watts: 21, does: shine}}]
    box: {terminals: {B: "30", "1": "30"}, inside: [{fuse: {between: [B, "1"], amps: 8}}]}
    """
)
BASE = Bench(
    PARTS,
    {"box": "box", "dash": "switch", "lamp": "lamp"},
    ["in = feed:live > box:B", "fed = box:1 > dash:30"],
    {"live": {"role": "30"}},
)
RELAYS = {**BASE.places, "one": "relay", "two": "relay"}
CHATTERING = BASE.changed(
    places=RELAYS,
    wires=[*BASE.wires, "on = dash:58 > one:30", "own = one:87a > one:86 > lamp:a", "e = one:85 > earth",
           "le = lamp:b > earth"],
)  # fmt: skip
RACING = BASE.changed(
    places=RELAYS,
    wires=[*BASE.wires, "on = dash:58 > one:30 > two:30", "x = one:87a > two:86", "y = two:87a > one:86",
           "e = one:85 > two:85 > earth", "l = one:87 > lamp:a", "le = lamp:b > earth"],
)  # fmt: skip
SHORTED = BASE.changed(wires=[*BASE.wires, "on = dash:58 > lamp:a", "short = lamp:a > earth"])
IN_ROW = BASE.changed(
    places={**BASE.places, "next": "lamp", "third": "lamp"},
    wires=[
        *BASE.wires,
        "on = dash:58 > lamp:a",
        "mid = lamp:b > next:a > third:a",
        "e = next:b > third:b > earth",
    ],
)
TWICE_EARTHED = BASE.changed(
    wires=[*BASE.wires, "on = dash:58 > lamp:a", "e1 = lamp:b > earth", "e2 = lamp:b > earth"]
)
ALL = {
    "chattering": CHATTERING,
    "racing": RACING,
    "shorted": SHORTED,
    "in a row": IN_ROW,
    "twice earthed": TWICE_EARTHED,
}


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
            if key[0] in ("short", "tie", "unsettled"):
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
