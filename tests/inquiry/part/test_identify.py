"""Whole identifications: what is found, in which order, what to read next, and what to withdraw."""

from typing import Any

import pytest
from benches import asked, part, readings

from planner.inquiry.part.deciding import best_reading
from planner.inquiry.part.identify import Identification, identify
from planner.model.part import Part
from planner.model.readings import Says

Rows = list[tuple[str, str, str, Says]]


def relay(name: str, closed: str, *more: dict[str, Any], marks: tuple[str, ...] = ()) -> Part:
    coil = {"between": ["86", "85"], "ohms": 80, "name": "k", "pulls_in_v": 7, "drops_out_v": 3}
    contact = {"join": ["30", "87"], "when": {"k": closed}}
    return part(["30", "87", "86", "85", *marks], [{"coil": coil}, {"contact": contact}, *more], name)


MAKE, BREAK = relay("make", "pulled"), relay("break", "released")
BOTH = relay(
    "changeover", "pulled", {"contact": {"join": ["30", "87a"], "when": {"k": "released"}}}, marks=("87a",)
)


def found(rows: Rows, *parts: Part, powered: tuple[str, ...] = ()) -> Identification:
    return identify(readings(rows, powered=powered), parts)


AT_REST: Rows = [("rest", "A", "B", 75.0), ("rest", "A", "C", "open"), ("rest", "C", "D", "open")]


def test_what_is_found_at_rest_is_not_decided_before_the_coil_was_fed() -> None:
    seen = found(AT_REST, MAKE, BREAK, BOTH)
    (only,) = seen.explanations
    assert only.part is MAKE
    assert {only.marks["A"], only.marks["B"]} == {"85", "86"}
    assert only.count == 4
    assert only.unseen == ("k: coil fed",)
    assert not seen.is_decided


def test_with_the_coil_fed_it_is_decided() -> None:
    seen = found([*AT_REST, ("coil fed", "C", "D", 0.2)], MAKE, BREAK, BOTH, powered=("coil fed",))
    assert [e.part.part for e in seen.explanations] == ["make"]
    assert seen.is_decided


def test_a_position_in_which_no_coil_was_fed_is_none_of_a_pulled_armature() -> None:
    rows: Rows = [("rest", "C", "D", "closed"), ("rest", "A", "B", 80.0), ("rest", "A", "C", "open")]
    assert [e.part.part for e in found(rows, MAKE, BREAK).explanations] == ["break"]


def test_the_next_reading_leaves_the_fewest_explanations_on_average() -> None:
    bench = readings([("rest", "A", "B", 75.0), ("rest", "A", "C", "open")], "D")
    seen = identify(bench, [MAKE, BREAK, part("ABCD", [])])
    assert {e.part.part for e in seen.explanations} == {"make", "break"}
    assert seen.next is not None
    assert (seen.next.position, {seen.next.red, seen.next.black}) == ("rest", {"C", "D"})
    assert seen.next.left == pytest.approx(1.0)
    assert sum(count for _, count in seen.next.answers) == 2


def test_no_next_reading_is_better_than_the_one_that_is_told() -> None:
    bench = asked([("rest", "A", "B", 75.0), ("rest", "C", "D", "open")], "E")
    seen = identify(bench.bench, [BOTH, relay("plain", "pulled", marks=("x",)), part("ABCDE", [])])
    assert seen.next is not None
    left = {(one, other): _left(seen, one, other) for one in "ABCDE" for other in "ABCDE" if one != other}
    assert seen.next.left == pytest.approx(min(left.values()))
    assert seen.next == best_reading(seen.asked, seen.explanations)


def _left(seen: Identification, red: str, black: str) -> float:
    """How many are left on average after a reading in the one position, counted one by one."""
    names = seen.asked.bench.terminals
    spans = [e.ohms(0, names.index(red), names.index(black)) for e in seen.explanations]
    left = [sum(a[0] <= b[1] and b[0] <= a[1] for b in spans) for a in spans]
    return sum(left) / len(left)


def test_parts_that_read_alike_everywhere_are_told_together() -> None:
    twin = MAKE.model_copy(update={"part": "twin"})
    rows: Rows = [*AT_REST, ("coil fed", "C", "D", "closed")]
    seen = found(rows, MAKE, twin, powered=("coil fed",))
    assert {e.part.part for e in seen.explanations} == {"make", "twin"}
    assert seen.next is None
    assert seen.is_decided
    other = found(rows, MAKE, twin.model_copy(update={"family": "else"}), powered=("coil fed",))
    assert other.next is None
    assert not other.is_decided


def test_the_reading_that_spoils_a_candidate_is_named() -> None:
    rows: Rows = [*AT_REST, ("rest", "B", "D", "closed"), ("coil fed", "C", "D", 0.2)]
    seen = found(rows, MAKE, BREAK, powered=("coil fed",))
    assert seen.explanations == ()
    assert {e.part.part for e in seen.nearly} == {"make"}
    assert {reading.pair for e in seen.nearly for reading in e.wrong} == {("B", "D")}
    assert not seen.is_decided


def test_the_case_need_not_be_read_but_counts_as_not_read() -> None:
    lamp = part(["58", "case"], [{"lamp": {"between": ["58", "case"], "watts": 5, "does": "tail"}}])
    seen = identify(readings([("rest", "A", "B", 2.2)]), [lamp])
    (only,) = seen.explanations
    assert only.marks == {"A": "58", "B": "case"}
    assert only.other_marks == {"A": ("case",), "B": ("58",)}
    switch = part(["1", "2", "case"], [{"contact": {"join": ["1", "2"]}}])
    (only,) = identify(readings([("rest", "A", "B", 0.1)]), [switch]).explanations
    assert only.left_out == ("case",)


def test_a_cold_filament_reads_a_thirteenth_of_its_hot_ohms() -> None:
    lamp = part(["1", "2"], [{"lamp": {"between": ["1", "2"], "watts": 21, "does": "stop"}}])
    hot = 12**2 / 21
    assert identify(readings([("rest", "A", "B", round(hot / 13, 2))]), [lamp]).explanations
    assert not identify(readings([("rest", "A", "B", round(hot, 2))]), [lamp]).explanations


def test_leads_that_were_read_are_taken_off() -> None:
    resistor = part(["1", "2"], [{"resistor": {"between": ["1", "2"], "ohms": 5}}])
    bench = readings([("rest", "A", "B", 7.9)])
    assert not identify(bench, [resistor]).explanations
    assert identify(bench, [resistor], leads_ohms=1.8).explanations


def test_what_the_person_calls_the_terminals_and_positions_ranks_what_fits() -> None:
    control = {"control": {"name": "lever", "positions": ["off", {"I": "left"}, {"II": "right"}]}}
    contacts = [
        {"contact": {"join": ["49a", mark], "when": {"lever": label}}}
        for mark, label in (("L", "I"), ("R", "II"))
    ]
    turn = part(["49a", "L", "R"], [control, *contacts])
    rows: Rows = [
        ("left", "49a", "R", "open"),
        ("left", "49a", "L", "closed"),
        ("right", "49a", "R", "closed"),
    ]
    first = found([*rows, ("off", "49a", "R", "open"), ("off", "L", "R", "open")], turn).explanations[0]
    assert first.marks == {"49a": "49a", "R": "R", "L": "L"}
    assert {name: settings[0]["lever"] for name, settings in first.settings.items()} == {
        "left": "I",
        "right": "II",
        "off": "off",
    }


def test_a_reading_that_says_little_ranks_a_part_behind_one_that_it_fits() -> None:
    known = part(["1", "2"], [{"resistor": {"between": ["1", "2"], "ohms": 30}}], "known")
    vague = part(["1", "2"], [{"source": {"between": ["1", "2"], "volts": 12}}], "a-vague-one")
    seen = found([("rest", "A", "B", 30.0)], vague, known)
    assert next(e.part.part for e in seen.explanations) == "known"


def test_ways_that_a_meter_cannot_tell_apart_are_one_explanation() -> None:
    seen = found([*AT_REST, ("coil fed", "C", "D", 0.2)], MAKE, powered=("coil fed",))
    (only,) = seen.explanations
    assert only.count == 4
    assert {name: set(marks) | {only.marks[name]} for name, marks in only.other_marks.items()} == {
        "A": {"85", "86"},
        "B": {"85", "86"},
        "C": {"30", "87"},
        "D": {"30", "87"},
    }


def test_letters_of_the_persons_own_are_no_marks() -> None:
    known = part(["A", "B"], [{"resistor": {"between": ["A", "B"], "ohms": 40}}], "lettered")
    other = part(["1", "2"], [{"resistor": {"between": ["1", "2"], "ohms": 30}}], "unlettered")
    seen = found([("rest", "A", "B", 30.0)], known, other)
    assert seen.explanations[0].part is other
    marked = found([("rest", "X", "D+", 4.0)], part(["W", "X", "D+"], [], "a"), part(["X", "D+"], [], "b"))
    assert not marked.explanations


def test_two_ways_that_overlap_leave_the_terminals_undecided() -> None:
    loads = [{"winding": {"between": [m, "31"], "watts": w, "does": m}} for m, w in (("53", 36), ("53b", 50))]
    rows: Rows = [("rest", "A", "B", 3.2), ("rest", "A", "C", 4.0), ("rest", "B", "C", 7.5)]
    seen = found(rows, part(["53", "53b", "31"], loads))
    assert {e.marks["A"] for e in seen.explanations} == {"31"}
    assert seen.explanations[0].marks == {"A": "31", "B": "53b", "C": "53"}
    assert seen.next is None
    assert seen.has_more_ways
    assert not seen.is_decided


def test_what_comes_round_is_in_one_setting_in_two_positions() -> None:
    coil = {"between": ["S", "case"], "ohms": 60, "name": "k", "pulls_in_v": 7, "drops_out_v": 3}
    beam = {"name": "beam", "states": ["dipped", "main"], "stepped_by": "k"}
    contacts = [
        {"contact": {"join": ["56", mark], "when": {"beam": state}}}
        for mark, state in (("56b", "dipped"), ("56a", "main"))
    ]
    stepping = part(
        ["56", "56a", "56b", "S", "case"], [{"coil": coil}, {"step": beam}, *contacts], "stepping"
    )
    rows: Rows = [("rest", "X", "Y", 60.0), ("rest", "A", "X", "open")]
    for position, there in (("rest", "B"), ("coil fed", "C"), ("let go", "C"), ("fed, again let go", "B")):
        rows += [(position, "A", mark, 0.1 if mark == there else "open") for mark in "BC"]
    seen = found(rows, stepping, BOTH, powered=("coil fed",))
    assert [e.part.part for e in seen.explanations] == ["stepping"]
    assert seen.is_decided
    same = [seen.explanations[0].settings[name] for name in ("rest", "fed, again let go")]
    assert same[0] == same[1]


def test_two_positions_of_a_switch_are_two_of_its_positions() -> None:
    control = {"control": {"name": "knob", "positions": ["a", "b"]}}
    switch = part(["1", "2"], [control, {"contact": {"join": ["1", "2"], "when": {"knob": "b"}}}])
    rows: Rows = [("0", "A", "B", "open"), ("I", "A", "B", "closed")]
    assert found(rows, switch).is_decided
    assert not found([*rows, ("II", "A", "B", "closed")], switch).explanations


CHAIN: Rows = [
    (position, *pair, 0.1 if pair == there else "open")
    for position, there in (("0", "AB"), ("I", "BC"), ("II", "CD"))
    for pair in ("AB", "AC", "AD", "BC", "BD", "CD")
]


def chain(rest: str) -> Part:
    """A switch whose joints go on along a row of terminals, so that it reads alike from both ends."""
    positions = {"off": ["1", "2"], "slow": ["2", "3"], "fast": ["3", "4"]}
    order = sorted(positions, key=lambda name: name != rest)
    contacts = [{"contact": {"join": join, "when": {"knob": name}}} for name, join in positions.items()]
    return part(["1", "2", "3", "4"], [{"control": {"name": "knob", "positions": order}}, *contacts])


def test_what_reads_alike_from_both_ends_is_told_by_its_rest() -> None:
    (only,) = found(CHAIN, chain("off")).explanations
    assert only.count == 2
    assert only.marks == {"A": "1", "B": "2", "C": "3", "D": "4"}
    assert only.other_marks["A"] == only.other_settings["0"] == ()


def test_without_a_name_for_rest_both_ends_are_told() -> None:
    lettered: Rows = [(f"P{position}", red, black, says) for position, red, black, says in CHAIN]
    (only,) = found(lettered, chain("off")).explanations
    assert {only.marks["A"], *only.other_marks["A"]} == {"1", "4"}
    (other,) = only.other_settings["P0"]
    assert {only.settings["P0"][0]["knob"], other[0]["knob"]} == {"off", "fast"}


def test_where_nothing_is_joined_nothing_is_decided() -> None:
    block = part(["1", "2"], [])
    found = identify(readings([("x", "A", "B", "open")]), [block])
    assert [e.part for e in found.explanations] == [block]
    assert found.is_all_open and not found.is_decided


def test_a_joint_is_no_junction_but_a_beep_or_a_drop_may_be_one() -> None:
    diode = part(["1", "2"], [{"diode": {"between": ["1", "2"]}}])
    says: dict[Says, bool] = {0.2: False, "closed": True, "drop": True, "open": True}
    for reading, fits in says.items():
        found = identify(readings([("x", "A", "B", reading)]), [diode])
        assert bool(found.explanations) is fits, reading


def test_of_several_kinds_the_names_speak_for_the_one_that_has_them() -> None:
    def switch(name: str, *labels: str) -> Part:
        control = {"control": {"name": name, "positions": ["off", *labels]}}
        joins = [{"contact": {"join": ["1", "2"], "when": {name: labels[0]}}}]
        return part(["1", "2"], [control, *joins], name)

    rows: Rows = [("off", "A", "B", "open"), ("side", "A", "B", 0.1)]
    found = identify(readings(rows), [switch("ignition", "on"), switch("lighting", "side")])
    assert len(found.kinds) == 2 and not found.is_decided
    assert found.speaks_for and found.speaks_for.part.part == "lighting"
    neither = identify(readings(rows), [switch("ignition", "on"), switch("heater", "warm")])
    assert neither.speaks_for is None
