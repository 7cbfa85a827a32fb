"""A part made of readings: contacts as read and no further, roles every way agrees on, what is not known."""

from itertools import permutations
from math import inf

import pytest
from benches import part, readings
from hypothesis import given, settings
from hypothesis import strategies as st
from test_assign_against_brute_force import parts
from test_identify import BOTH, CHAIN, MAKE, Rows, chain

from planner.inquiry.part.asked import Asked
from planner.inquiry.part.assign import find_ways
from planner.inquiry.part.bench_view import bench_view
from planner.inquiry.part.identify import identify
from planner.inquiry.part.measured_part import UNKNOWN_FAMILY, MeasuredPart, measured_part
from planner.model.elements import Coil, Contact, Control, Diode, Resistor
from planner.model.part import Part
from planner.model.readings import BenchReadings, Says

RELAY: Rows = [
    ("rest", "A", "B", 75.0),
    ("rest", "A", "C", "open"),
    ("rest", "C", "D", "open"),
    ("rest", "C", "E", 0.2),
    ("coil fed", "C", "D", "closed"),
    ("coil fed", "C", "E", "open"),
]


def made(bench: BenchReadings, *catalogue: Part) -> MeasuredPart:
    return measured_part(identify(bench, catalogue), "mine")


def contacts(thing: Part) -> list[tuple[tuple[str, ...], dict[str, tuple[str, ...]]]]:
    return [(e.join, dict(e.when)) for e in thing.inside if isinstance(e, Contact)]


def test_a_matched_relay_has_its_coil_as_measured_and_its_contacts_as_read() -> None:
    mine = made(readings(RELAY, powered=["coil fed"]), MAKE, BOTH)
    (coil,) = (e for e in mine.part.inside if isinstance(e, Coil))
    assert (set(coil.between), coil.ohms) == ({"A", "B"}, 75.0)
    assert contacts(mine.part) == [
        (("C", "E"), {"k": ("released",)}),
        (("C", "D"), {"k": ("pulled",)}),
    ]
    assert mine.part.family == "changeover"
    assert mine.part.source == "measured-on-the-bench"


def test_what_was_not_read_is_not_joined_and_is_said() -> None:
    some = [row for row in RELAY if row != ("coil fed", "C", "D", "closed")]
    mine = made(readings(some, powered=["coil fed"]), MAKE, BOTH)
    assert [join for join, _ in contacts(mine.part)] == [("C", "E")]
    assert any("Not read in coil fed" in said and "C-D" in said for said in mine.unknown)


def test_positions_get_the_persons_names_and_the_matchs_meanings() -> None:
    inside = [
        {"control": {"name": "wiper", "positions": ["off", {"I": "slow"}, {"II": "fast"}]}},
        {"contact": {"join": ["15", "53"], "when": {"wiper": "I"}}},
        {"contact": {"join": ["15", "53b"], "when": {"wiper": "II"}}},
    ]
    closed = {"0": "", "1": "AB", "2": "AC"}
    rows: Rows = [
        (position, *pair, 0.1 if pair == there else "open")
        for position, there in closed.items()
        for pair in ("AB", "AC", "BC")
    ]
    switch = part(["15", "53", "53b"], inside)
    mine = made(readings(rows), switch)
    (control,) = (e for e in mine.part.inside if isinstance(e, Control))
    assert {p.label for p in control.positions} == {"0", "1", "2"}
    assert {p.meaning for p in control.positions} == {"off", "slow", "fast"}
    assert contacts(mine.part) == [(("A", "B"), {"wiper": ("1",)}), (("A", "C"), {"wiper": ("2",)})]


def test_an_output_wants_no_feed_where_the_one_it_is_taken_for_wants_none() -> None:
    inside = [
        {"control": {"name": "key", "positions": ["off", "on", "start"]}},
        {"contact": {"join": ["30", "75"], "when": {"key": "on"}}},
        {"contact": {"join": ["30", "50"], "when": {"key": "start"}}},
        {"contact": {"join": ["30", "15"], "when": {"key": ["on", "start"]}}},
    ]
    key = part(["30", "75", "50", "15"], inside)
    wants = {m: t.model_copy(update={"role": m, "wants": "nothing"}) for m, t in key.terminals.items()}
    key = key.model_copy(update={"terminals": wants | {"30": wants["30"].model_copy(update={"wants": None})}})
    closed = {"off": (), "on": ("AB", "AD", "BD"), "start": ("AC", "AD", "CD")}
    rows: Rows = [
        (position, *pair, 0.1 if "".join(pair) in there else "open")
        for position, there in closed.items()
        for pair in ("AB", "AC", "AD", "BC", "BD", "CD")
    ]
    terminals = made(readings(rows), key).part.terminals
    assert {mark: (terminals[mark].role, terminals[mark].wants) for mark in "BC"} == {
        "B": ("75", "nothing"),
        "C": ("50", "nothing"),
    }


def test_a_role_that_the_ways_do_not_agree_on_stays_unknown() -> None:
    relay = MAKE.model_copy(
        update={
            "terminals": {
                mark: terminal.model_copy(update={"role": mark}) for mark, terminal in MAKE.terminals.items()
            }
        }
    )
    rows: Rows = [("rest", "A", "B", 75.0), ("rest", "C", "D", "open"), ("rest", "A", "C", "open")]
    mine = made(readings([*rows, ("coil fed", "C", "D", 0.1)], powered=["coil fed"]), relay)
    assert {t.role for t in mine.part.terminals.values()} == {None}
    assert any("What A, B, C, D are for is not known" in said for said in mine.unknown)


def test_without_a_match_joints_loads_and_diodes_are_what_was_read() -> None:
    rows: Rows = [
        ("off", "A", "B", "open"),
        ("on", "A", "B", 0.3),
        ("off", "A", "C", 12.0),
        ("on", "A", "C", 12.5),
        ("on", "B", "C", 12.6),
        ("off", "C", "D", "drop"),
        ("on", "C", "D", "drop"),
        ("off", "D", "C", "open"),
    ]
    mine = made(readings(rows))
    assert mine.part.family == UNKNOWN_FAMILY
    assert contacts(mine.part) == [(("A", "B"), {"position": ("on",)})]
    assert [(e.between, e.ohms) for e in mine.part.inside if isinstance(e, Resistor)] == [(("A", "C"), 12.0)]
    assert [e.between for e in mine.part.inside if isinstance(e, Diode)] == [("C", "D")]
    assert mine.unknown[0].startswith("The readings fit no part of the catalogue")


@pytest.mark.parametrize("drops", ["off", "on"])
def test_a_diode_in_one_position_and_ohms_in_another_are_both_what_was_read(drops: str) -> None:
    says: dict[str, Says] = {"off": 12.0, "on": 12.0, drops: "drop"}
    mine = made(readings([(position, "A", "B", said) for position, said in says.items()]))
    assert [e.between for e in mine.part.inside if isinstance(e, Diode)] == [("A", "B")]
    (resistor,) = (e for e in mine.part.inside if isinstance(e, Resistor))
    assert (resistor.ohms, drops in resistor.when["position"]) == (12.0, False)


def test_without_a_match_the_family_is_what_the_person_says_and_a_case_is_a_mounting() -> None:
    rows: Rows = [("0", "A", "case", "open"), ("1", "A", "case", 0.1)]
    mine = measured_part(identify(readings(rows), []), "mine", "horn-push")
    assert mine.part.family == "horn-push"
    assert [t.by for t in mine.part.terminals.values()] == ["wire", "mounting"]
    assert any("springs back" in said for said in mine.unknown)
    assert any("when: {brake pedal: pressed}" in said for said in mine.unknown)


def test_a_part_that_reads_alike_from_both_ends_says_so() -> None:
    lettered: Rows = [(f"P{position}", red, black, says) for position, red, black, says in CHAIN]
    assert any("other way round" in said for said in made(readings(lettered), chain("off")).unknown)
    assert not any("other way round" in said for said in made(readings(CHAIN), chain("off")).unknown)


def test_loads_in_series_are_not_a_third_load() -> None:
    rows: Rows = [("rest", "A", "B", 10.0), ("rest", "B", "C", 20.0), ("rest", "A", "C", 30.0)]
    mine = made(readings(rows))
    assert [e.between for e in mine.part.inside if isinstance(e, Resistor)] == [("A", "B"), ("B", "C")]


def test_several_families_are_no_match() -> None:
    rows: Rows = [("rest", "A", "B", 0.1)]
    links = [part(["1", "2"], [{"contact": {"join": ["1", "2"]}}], name) for name in ("one", "other")]
    mine = made(readings(rows), *links)
    assert mine.part.family == UNKNOWN_FAMILY
    assert mine.unknown[0].startswith("The readings fit several kinds of part")


def test_readings_that_contradict_one_another_are_said_to_be_unexplained() -> None:
    rows: Rows = [("on", "A", "B", "closed"), ("on", "B", "C", "closed"), ("on", "A", "C", "open")]
    assert any("does not explain all of its readings" in said for said in made(readings(rows)).unknown)
    assert any("some contradict the others" in said for said in made(readings(rows)).unknown)


def test_a_coil_that_no_part_of_the_catalogue_has_contradicts_nothing() -> None:
    rows = [*RELAY, ("coil fed", "A", "B", 75.0)]
    said = made(readings(rows, powered=["coil fed"])).unknown
    assert any("What its coil does is written as a position" in each for each in said)
    assert not any("does not explain" in each or "contradict" in each for each in said)


def test_volts_are_assumed_and_said_to_be_with_a_match_and_without() -> None:
    matched, alone = made(readings(RELAY, powered=["coil fed"]), BOTH), made(readings(RELAY[:4]))
    assert matched.part.family == "changeover"
    for mine in (matched, alone):
        assert "No meter reads volts: 12 V is assumed until somebody looks at the part." in mine.unknown


def test_a_terminal_that_was_never_seen_joined_has_no_role_and_is_told() -> None:
    switch = {"control": {"name": "c", "positions": ["off", "on"]}}
    closed = {"contact": {"join": ["30", "58"], "when": {"c": "on"}}}
    thing = part(["30", "58", "x"], [switch, closed], roles={"30": "30", "58": "58", "x": "31"})
    rows: Rows = [
        (position, one, other, "closed" if position == "on" and {one, other} == {"A", "B"} else "open")
        for position in ("off", "on")
        for one, other in (("A", "B"), ("A", "C"), ("B", "C"))
    ]
    mine = made(readings(rows), thing)
    assert mine.part.family == "thing"
    assert mine.part.terminals["C"].role is None
    assert "Never seen joined to anything, so it may be for anything: C." in mine.unknown
    assert not any("A" in said for said in mine.unknown if said.startswith("Never seen"))


@pytest.mark.parametrize("with_match", [True, False])
@settings(max_examples=100)
@given(thing=parts(), data=st.data())
def test_a_part_made_of_all_its_readings_explains_them(
    with_match: bool, thing: Part, data: st.DataObject
) -> None:
    view = bench_view(thing)
    rows: list[tuple[str, str, str, Says]] = []
    shift = data.draw(st.integers(0, 4))
    names = dict(zip(view.marks, [f"t{(n + shift) % 5}" for n in range(len(view.marks))], strict=True))
    for place, alike in enumerate(view.alike):
        for one, other in permutations(range(len(view.marks)), 2):
            least, most = alike.ohms[one][other]
            says: Says = "open" if least == inf else 0.1 if most <= 2 else (least + most) / 2
            if most == inf and least < inf:
                says = "drop"
            rows.append((f"p{place}", names[view.marks[one]], names[view.marks[other]], says))
    powered = [f"p{n}" for n, alike in enumerate(view.alike) if alike.is_powered]
    bench = readings(rows, powered=powered)
    mine = made(bench, *([thing] if with_match else []))
    if with_match:
        ways = find_ways(bench_view(mine.part), Asked(bench)).found
        assert ways
        assert not any("does not explain" in said for said in mine.unknown)
    elif not any(isinstance(e, Resistor | Coil | Diode) for e in thing.inside) and not powered:
        assert not any("does not explain" in said for said in mine.unknown)


STOP = part(["in", "out"], [{"contact": {"join": ["in", "out"], "when": {"brake pedal": "pressed"}}}], "stop")


def test_what_works_its_whole_family_works_a_part_that_none_of_them_is() -> None:
    rows: Rows = [
        ("released", "a", "b", "open"), ("released", "a", "c", 0.1), ("released", "b", "c", "open"),
        ("Pressed", "a", "b", 0.1), ("Pressed", "a", "c", "open"), ("Pressed", "b", "c", "open"),
    ]  # fmt: skip
    mine = measured_part(identify(readings(rows), [STOP]), "mine", "stop", [STOP])
    assert not mine.part.controls
    assert contacts(mine.part) == [
        (("a", "c"), {"brake pedal": ("released",)}),
        (("a", "b"), {"brake pedal": ("pressed",)}),
    ]
    assert any("brake pedal: [released, pressed]" in said for said in mine.unknown)
    assert not any("does not explain" in said for said in mine.unknown)


@pytest.mark.parametrize("names", [("up", "down"), ("pressed", "pressed hard", "released")])
def test_positions_that_do_not_say_so_are_those_of_a_control_of_its_own(names: tuple[str, ...]) -> None:
    rows: Rows = [(name, "a", "b", 0.1 if n else "open") for n, name in enumerate(names)]
    rows += [(name, "a", "c", "open" if n else 0.1) for n, name in enumerate(names)]
    mine = measured_part(identify(readings(rows), [STOP]), "mine", "stop", [STOP])
    assert list(mine.part.controls) == ["position"]


def test_a_switch_that_works_the_other_way_round_is_written_as_the_person_calls_it() -> None:
    rows: Rows = [("released", "1", "2", 0.1), ("pressed", "1", "2", "open")]
    found = identify(readings(rows), [STOP])
    assert found.explanations[0].contrary == ("pressed",)
    assert not found.is_decided
    mine = measured_part(found, "mine", "stop", [STOP])
    assert contacts(mine.part) == [(("1", "2"), {"brake pedal": ("released",)})]
    assert "works the other way round" in mine.unknown[0]


def test_terminals_without_a_role_are_told_with_the_roles_that_their_kind_has() -> None:
    kin = part(["in", "out"], [], "stop", {"in": "15", "out": "54"})
    mine = measured_part(
        identify(readings([("x", "A", "B", 5.0), ("x", "A", "C", "open")]), []), "m", "stop", [kin]
    )
    assert any('"A": {role: "15"}' in said and "15, 54" in said for said in mine.unknown)
