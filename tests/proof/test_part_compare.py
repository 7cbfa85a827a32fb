"""One part against another: pairs, what differs in which position, the verdict, and what it rests on."""

from collections.abc import Mapping
from dataclasses import asdict
from functools import lru_cache
from itertools import permutations, product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_looms import ROLES, Bench, make_part, read

from planner.model.contact_table import table_of
from planner.model.elements import Contact, Diode, Fuse, Gauge, Lamp, Resistor, Sender, Source, Winding
from planner.model.part import Part
from planner.pipeline import open_catalogue
from planner.problems import TooLargeError
from planner.proof.part_compare import PartComparison, compare_parts
from planner.proof.part_facts import PartFacts

CATALOGUE = open_catalogue()
PARTS = CATALOGUE.parts
RELATIVES = [
    (one.part, other.part)
    for one in PARTS.values()
    for other in PARTS.values()
    if one.family == other.family and one.part != other.part
]
SHORTFALLS = ("lost", "changed", "unintended")


@lru_cache
def shipped(original: str, other: str) -> PartComparison:
    return compare_parts(PARTS[original], PARTS[other], CATALOGUE.roles)


def small(original: str, other: str) -> PartComparison:
    """Two parts from short forms in YAML."""
    one, two = (make_part(name, read(text)) for name, text in (("one", original), ("two", other)))
    return compare_parts(one, two, ROLES)


def pairs(comparison: PartComparison) -> dict[str, str]:
    return {line.original: line.other for line in comparison.terminals if line.original and line.other}


def alone(comparison: PartComparison) -> tuple[list[str], list[str]]:
    """Terminals without a partner: of the original, of the other."""
    lines = comparison.terminals
    return (
        [line.original for line in lines if line.original and not line.other],
        [line.other for line in lines if line.other and not line.original],
    )


def rows(comparison: PartComparison, *outcomes: str) -> set[tuple[str, str, str, str, str]]:
    return {
        (r.outcome, r.what, r.original, r.other, r.position)
        for r in comparison.behaviours
        if r.outcome in outcomes
    }


def work(comparison: PartComparison, mark: str) -> tuple[str, ...]:
    """What is to be done at a terminal of the original, or at one that only the other has."""
    return next(line.work for line in comparison.terminals if mark in (line.original, line.other))


def says(comparison: PartComparison, text: str) -> bool:
    return any(text in reason for reason in comparison.reasons)


# -- over the whole catalogue ------------------------------------------------------------------------------


@pytest.mark.parametrize("name", PARTS)
def test_a_part_is_a_drop_in_for_itself(name: str) -> None:
    comparison = shipped(name, name)
    assert comparison.verdict == "drop-in"
    assert pairs(comparison) == {mark: mark for mark in PARTS[name].terminals}
    assert {row.outcome for row in comparison.behaviours} <= {"kept"}
    assert {rating.outcome for rating in comparison.ratings} <= {"same"}
    assert not any(line.work for line in comparison.terminals)


@pytest.mark.parametrize(("one", "other"), RELATIVES)
def test_terminals_are_paired_the_same_either_way_round(one: str, other: str) -> None:
    there, back = shipped(one, other), shipped(other, one)
    shared = [
        {(line.original, line.other) for line in c.terminals if line.why.startswith("same") and line.original}
        for c in (there, back)
    ]
    assert shared[0] == {(ours, theirs) for theirs, ours in shared[1]}


@pytest.mark.parametrize(("one", "other"), RELATIVES)
def test_what_is_lost_one_way_is_gained_or_unasked_for_the_other_way(one: str, other: str) -> None:
    there, back = shipped(one, other), shipped(other, one)
    assert {
        r.what for r in there.behaviours if r.outcome == "lost" and r.original not in ("joined", "a position")
    } <= {r.what for r in back.behaviours if r.outcome in ("gained", "unintended", "changed")}
    joints = sum(r.outcome == "lost" and r.original == "joined" for r in there.behaviours)
    new = sum(r.outcome in ("gained", "unintended") and r.other == "joined" for r in back.behaviours)
    assert (joints > 0) <= (new > 0)


@pytest.mark.parametrize(("one", "other"), RELATIVES)
def test_a_drop_in_is_one_either_way_round_but_for_figures_and_room(one: str, other: str) -> None:
    """What carries more, or takes more ends, stands in for what carries less, and not the other way round."""
    there, back = shipped(one, other), shipped(other, one)
    if there.verdict == "drop-in" != back.verdict:
        room = [
            PARTS[other].terminals[line.original].holds > PARTS[one].terminals[line.other].holds
            for line in back.terminals
            if line.original and line.other
        ]
        assert any(room) or any(rating.outcome in ("weaker", "heavier") for rating in back.ratings)


@pytest.mark.parametrize(("one", "other"), RELATIVES)
def test_no_pair_has_two_roles_that_differ_and_one_mark(one: str, other: str) -> None:
    for ours, theirs in pairs(shipped(one, other)).items():
        roles = PARTS[one].terminals[ours].role, PARTS[other].terminals[theirs].role
        assert ours != theirs or roles[0] == roles[1] or None in roles


@pytest.mark.parametrize("name", PARTS)
def test_joints_are_those_of_the_contact_table(name: str) -> None:
    part = PARTS[name]
    facts, table = PartFacts(part, "original", {}), table_of(part)
    settings_ = [dict(zip(part.variables, v, strict=True)) for v in product(*part.variables.values())]
    marks = list(part.terminals)
    for one, other in product(marks, marks):
        seen = {
            any({("original", one), ("original", other)} <= group for group in facts.at(setting).groups)
            for setting in settings_
        }
        assert seen <= set(table.joined(one, other))


@pytest.mark.parametrize("name", [name for name, part in PARTS.items() if part.inside])
def test_a_part_that_lacks_any_one_element_is_no_drop_in(name: str) -> None:
    part = PARTS[name]
    for number, element in enumerate(part.inside):
        if isinstance(element, Contact | Lamp | Winding | Resistor | Fuse | Diode | Sender | Source | Gauge):
            rest = part.inside[:number] + part.inside[number + 1 :]
            poorer = part.model_copy(update={"inside": rest})
            found = compare_parts(part, poorer, CATALOGUE.roles)
            assert found.verdict in ("fits with losses", "does not fit"), element
            richer = compare_parts(poorer, part, CATALOGUE.roles)
            assert any(row.outcome in ("gained", "unintended") for row in richer.behaviours), element


def test_comparison_as_a_document_holds_all_that_was_found() -> None:
    comparison = shipped("dip-relay-four", "dip-relay-five-late")
    document = comparison.as_json()
    assert list(document) == ["original", "other", "verdict", "reasons", "terminals", "behaviours", "ratings"]
    assert (document["original"], document["other"]) == (comparison.original.part, comparison.other.part)
    assert (document["verdict"], document["reasons"]) == (comparison.verdict, list(comparison.reasons))
    for key in ("terminals", "behaviours", "ratings"):
        records = getattr(comparison, key)
        assert document[key] == [asdict(record) for record in records]
    assert document["terminals"] and document["behaviours"]


def test_parts_of_other_families_do_not_fit() -> None:
    comparison = shipped("horn-late", "fog-lamp")
    assert comparison.verdict == "does not fit"
    assert says(comparison, "another kind of part: fog-lamp, not horn")


# -- pairs of the catalogue that a restorer meets ----------------------------------------------------------


def test_two_speed_motor_needs_an_earth_wire_and_its_second_brush_is_covered() -> None:
    comparison = shipped("wiper-motor-one-speed", "wiper-motor-two-speed")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison) == {"M": "53", "P": "53a", "S": "31b", "case": "31"}
    assert work(comparison, "case") == ("make an earth wire to it: the original was earthed by its mounting",)
    assert work(comparison, "53b") == ("cover it, or connect what is new",)
    assert rows(comparison, *SHORTFALLS) == set()
    assert rows(comparison, "gained") == {("gained", "wipe fast", "none", "between 53b and 31", "always")}


def test_one_speed_motor_loses_the_second_speed() -> None:
    comparison = shipped("wiper-motor-two-speed", "wiper-motor-one-speed")
    assert comparison.verdict == "fits with losses"
    assert rows(comparison, *SHORTFALLS) == {("lost", "wipe fast", "between 53b and 31", "none", "always")}
    assert alone(comparison) == (["53b"], [])


def test_a_position_that_only_the_original_has_is_lost() -> None:
    comparison = shipped("wiper-switch-two-speed", "wiper-switch-one-speed")
    assert rows(comparison, *SHORTFALLS) == {
        ("lost", "wiper: fast", "a position", "none", "always"),
        ("lost", "15 with 53b", "joined", "none", "with wiper at fast"),
    }


def test_positions_are_compared_by_meaning_and_not_by_label() -> None:
    comparison = shipped("wiper-switch-one-speed", "wiper-switch-two-speed")
    assert ("kept", "B with M", "joined", "joined", "with wiper at slow") in rows(comparison, "kept")
    assert ("gained", "15 with 53b of the other", "none", "joined", "with wiper at fast") in rows(
        comparison, "gained"
    )
    assert comparison.verdict == "fits with rewiring"


def test_four_terminal_dip_relay_loses_the_flash_and_takes_its_coil_feed_elsewhere() -> None:
    comparison = shipped("dip-relay-five", "dip-relay-four")
    assert comparison.verdict == "fits with losses"
    assert alone(comparison) == (["B"], [])
    assert work(comparison, "B") == ("its end stays live: cover it and tie it back",)
    assert rows(comparison, *SHORTFALLS) == {
        ("lost", "B with M", "joined", "none", "with armature pulled and beam dipped"),
        ("changed", "coil of armature", "between B and S", "between 56 and S", "always"),
        ("changed", "M", "joined to B", "joined to 56", "with armature pulled and beam main"),
    }


def test_five_terminal_dip_relay_does_all_that_four_did_once_it_has_its_feed() -> None:
    comparison = shipped("dip-relay-four", "dip-relay-five-late")
    assert comparison.verdict == "fits with rewiring"
    assert work(comparison, "30") == ("make a wire to it from a fused feed that is always live",)
    assert rows(comparison, *SHORTFALLS) == set()
    assert {row[1] for row in rows(comparison, "gained")} == {
        "coil of armature",
        "30 with 56a of the other",
        "56a",
    }


def test_other_marks_at_the_same_places_are_still_a_drop_in() -> None:
    comparison = shipped("dip-relay-five", "dip-relay-five-late")
    assert comparison.verdict == "drop-in"
    assert says(comparison, "At the same places the marks differ: B is 30, H is 56, M is 56a, D is 56b.")


def test_relay_of_the_other_layout_is_right_by_mark_and_wrong_by_place() -> None:
    comparison = shipped("relay-changeover-a", "relay-changeover-b")
    assert comparison.verdict == "fits with rewiring"
    assert says(comparison, "The face is laid out otherwise (86, 30): right by mark, wrong by place.")
    assert {row.outcome for row in comparison.behaviours} == {"kept"}


def test_the_small_tap_shares_the_terminal_that_it_was_one_with() -> None:
    comparison = shipped("fuse-box-ten-way", "fuse-box-ten-way-no-tap")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison)["T"] == "7"
    assert work(comparison, "T") == (
        "shares 7 with the end from 7, on a piggyback",
        "re-end it: a 6.3 mm push-on terminal instead of a 2.8 mm push-on terminal",
    )
    assert alone(comparison) == ([], [])


def test_a_tap_that_the_original_did_not_have_is_covered() -> None:
    comparison = shipped("fuse-box-ten-way-no-tap", "fuse-box-ten-way")
    assert comparison.verdict == "fits with rewiring"
    assert work(comparison, "T") == ("nothing has to go there: cover it",)


def test_mirrored_fuse_box_is_paired_across_its_rows() -> None:
    comparison = shipped("fuse-box-four-way", "fuse-box-four-way-mirrored")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison) == {str(n): str((n + 3) % 8 + 1) for n in range(1, 9)}
    assert says(comparison, "Its face is the mirror image of the original's")
    assert says(comparison, "1 (30, there live-fused)")


def test_one_feed_for_two_fuses_is_linked_to_the_second_terminal() -> None:
    comparison = shipped("fuse-box-ten-way", "fuse-box-four-way")
    assert pairs(comparison)["S"] in ("3", "4")
    linked = next(line for line in comparison.terminals if line.original is None)
    assert {linked.other, pairs(comparison)["S"]} == {"3", "4"}
    assert linked.work == (f"link it to {pairs(comparison)['S']}: one terminal did for both",)
    lost = {row[2] for row in rows(comparison, "lost") if row[1] == "fuse"}
    assert "between S and 5" not in lost and "between S and 6" not in lost
    assert "between M and 7" in lost


def test_interior_lamp_without_an_earth_shines_through_the_door_switch() -> None:
    comparison = shipped("interior-lamp-own-earth", "interior-lamp-no-earth")
    assert comparison.verdict == "fits with losses"
    assert rows(comparison, *SHORTFALLS) == {
        ("changed", "interior light", "between B and E", "between B and D", "with lamp switch on")
    }


def test_an_own_earth_beside_the_old_return_is_a_gain() -> None:
    comparison = shipped("interior-lamp-no-earth", "interior-lamp-own-earth")
    assert comparison.verdict == "fits with rewiring"
    assert work(comparison, "E") == ("make an earth wire to it",)
    assert rows(comparison, *SHORTFALLS) == set()


def test_insulated_horn_is_not_replaced_by_one_that_earths_itself() -> None:
    comparison = shipped("horn-insulated", "horn-earthed-by-body")
    assert comparison.verdict == "does not fit"
    assert says(comparison, "between + and case, so it works as long as it is fed")


def test_accessories_that_drop_out_while_cranking_are_lost_in_start_alone() -> None:
    comparison = shipped("ignition-switch-early", "ignition-switch-late")
    assert comparison.verdict == "fits with losses"
    assert rows(comparison, *SHORTFALLS) == {
        ("lost", "A with AC", "joined", "not joined", "with ignition at start")
    }
    back = shipped("ignition-switch-late", "ignition-switch-early")
    assert rows(back, *SHORTFALLS) == {
        ("unintended", "30 with 75", "not joined", "joined", "with ignition at start")
    }


def test_two_feed_terminals_that_are_one_share_the_single_one() -> None:
    comparison = shipped("lighting-switch-two-feeds", "lighting-switch-dimming")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison)["A1"] == pairs(comparison)["A2"] == "30"
    assert rows(comparison, "gained") == {
        (
            "gained",
            "resistor",
            "none",
            "15 ohms between 30 and 58d",
            "with lighting not at off and dimmer dim",
        )
    }


def test_thermal_flasher_wants_more_load_than_the_electronic_one_did() -> None:
    comparison = shipped("flasher-turn-and-hazard", "flasher-thermal")
    assert comparison.verdict == "fits with losses"
    assert ("flasher beat, least current", "weaker") in {(r.what, r.outcome) for r in comparison.ratings}
    better = shipped("flasher-thermal", "flasher-turn-and-hazard")
    assert better.verdict == "fits with rewiring"
    assert pairs(better) == {"B": "49", "L": "49a"}


def test_thirteen_contacts_have_no_place_for_contact_two_of_seven() -> None:
    comparison = shipped("trailer-socket-7", "trailer-socket-13")
    assert comparison.verdict == "fits with losses"
    assert pairs(comparison) == {mark: mark for mark in "134567"}
    assert alone(comparison)[0] == ["2"]
    assert rows(comparison, *SHORTFALLS) == set()


def test_changed_numbers_are_paired_by_side() -> None:
    comparison = shipped("turn-switch-early", "turn-switch-numbers-changed")
    assert comparison.verdict == "fits with rewiring"
    assert pairs(comparison) == {"F": "F", "1": "2", "2": "1"}


def test_heavier_lamps_ask_more_of_the_wires_and_weaker_ones_are_a_loss() -> None:
    assert shipped("headlamp-r2", "headlamp-h4").verdict == "fits with rewiring"
    assert says(shipped("headlamp-r2", "headlamp-h4"), "main beam: 45 W on the original, 60 W on the other")
    assert shipped("headlamp-h4", "headlamp-r2").verdict == "fits with losses"


# -- small parts for what the catalogue lacks --------------------------------------------------------------

LAMP = '{terminals: {"58": "58", "31": "31"}, inside: [{lamp: {between: ["58", "31"], watts: 21, does: x}}]}'


def test_other_volts_do_not_fit_where_something_depends_on_them() -> None:
    other = LAMP.replace("{terminals", "{volts: 6, terminals", 1)
    assert small(LAMP, other).verdict == "does not fit"
    switch = '{terminals: {"30": "30", "58": "58"}, inside: [{contact: {join: ["30", "58"]}}]}'
    six = switch.replace("{terminals", "{volts: 6, terminals", 1)
    assert small(switch, six).verdict == "drop-in"
    assert says(small(switch, six), "It is made for 6 V, not 12 V; nothing inside depends on it.")


@pytest.mark.parametrize(
    ("original", "other", "outcome"),
    [("21", "20", "other"), ("21", "10", "weaker"), ("21", "25", "heavier")],
)
def test_watts_are_judged_by_how_far_they_are_off(original: str, other: str, outcome: str) -> None:
    comparison = small(LAMP.replace("21", original), LAMP.replace("21", other))
    assert ("x", f"{original} W", f"{other} W", outcome) in {
        (r.what, r.original, r.other, r.outcome) for r in comparison.ratings
    }


@pytest.mark.parametrize(
    ("marked", "amps", "outcome"),
    [("blowing", 20, "same share"), ("continuous", 20, "heavier"), ("continuous", 5, "weaker")],
)
def test_fuses_are_compared_by_what_they_carry(marked: str, amps: int, outcome: str) -> None:
    box = '{{terminals: {{"30": "30", "58": "58"}}, inside: [{{fuse: {{between: ["30", "58"], {0}}}}}]}}'
    comparison = small(box.format("amps: 10"), box.format(f"amps: {amps}, marked: {marked}"))
    (rating,) = comparison.ratings
    assert rating.outcome == ("other" if outcome == "same share" else outcome)


@pytest.mark.parametrize(
    ("field", "original", "other", "outcome"),
    [
        ("ohms", "80", "60", "heavier"),
        ("ohms", "80", "90", "other"),
        ("pulls_in_v", "7", "9", "weaker"),
        ("pulls_in_v", "7", "6", "other"),
    ],
)
def test_coils_are_judged_by_current_and_pull_in(field: str, original: str, other: str, outcome: str) -> None:
    def relay(value: str) -> str:
        said = {"ohms": "80", "pulls_in_v": "7", field: value}
        more = ", ".join(f"{key}: {v}" for key, v in said.items())
        return (
            '{terminals: {"86": "86", "85": "85"}, '
            f'inside: [{{coil: {{between: ["86", "85"], {more}, drops_out_v: 2, name: arm}}}}]}}'
        )

    found = {r.outcome for r in small(relay(original), relay(other)).ratings}
    assert found == {"same", outcome}


@pytest.mark.parametrize(
    ("original", "other", "outcome", "note"),
    [
        (", amps: 8", ", amps: 8", "same", ""),
        (", amps: 8", ", amps: 5", "weaker", "carries less"),
        (", amps: 8", ", amps: 10", "other", "carries more"),
        (", amps: 8", "", "other", "only one of them says what it carries"),
    ],
)
def test_contacts_are_compared_by_what_they_carry(original: str, other: str, outcome: str, note: str) -> None:
    text = '{{terminals: {{"30": "30", "58": "58"}}, inside: [{{contact: {{join: ["30", "58"]{}}}}}]}}'
    (rating,) = small(text.format(original), text.format(other)).ratings
    assert (rating.what, rating.outcome, rating.note) == ("contact 30 with 58", outcome, note)


def test_a_gauge_of_another_full_scale_reads_wrong() -> None:
    text = (
        '{{terminals: {{"15": "15", "31": "31"}}, '
        'inside: [{{gauge: {{between: ["15", "31"], ohms: 60, full_scale_amps: {}, does: fuel gauge}}}}]}}'
    )
    comparison = small(text.format(0.15), text.format(0.2))
    assert comparison.verdict == "fits with losses"
    assert says(comparison, "reads wrong with the old sender")


def test_a_lamp_for_other_volts_in_the_same_part_is_a_loss() -> None:
    comparison = small(LAMP, LAMP.replace("watts: 21", "watts: 21, volts: 6"))
    assert comparison.verdict == "fits with losses"
    assert says(comparison, "x: 12 V on the original, 6 V on the other; made for other volts.")


def test_a_fuse_that_became_a_link_is_a_loss() -> None:
    fused = '{terminals: {"30": "30", "58": "58"}, inside: [{fuse: {between: ["30", "58"], amps: 8}}]}'
    linked = '{terminals: {"30": "30", "58": "58"}, inside: [{contact: {join: ["30", "58"]}}]}'
    comparison = small(fused, linked)
    assert rows(comparison, *SHORTFALLS) == {
        ("lost", "fuse", "between 30 and 58", "none", "always"),
        ("unintended", "30 with 58", "not joined", "joined", "always"),
    }


def test_a_diode_the_other_way_round_is_a_change() -> None:
    text = '{{terminals: {{"30": "30", "58": "58"}}, inside: [{{diode: {{between: [{}]}}}}]}}'
    comparison = small(text.format('"30", "58"'), text.format('"58", "30"'))
    assert comparison.verdict != "drop-in"
    assert {row[0] for row in rows(comparison, *SHORTFALLS)} == {"lost", "unintended"}


def test_a_sender_is_compared_value_by_value() -> None:
    text = (
        '{{terminals: {{a: "return", "31": "31"}}, '
        'inside: [{{sender: {{between: [a, "31"], follows: fuel, ohms: {{full: 20, empty: {}}}}}}}]}}'
    )
    comparison = small(text.format(180), text.format(90))
    assert comparison.verdict == "fits with losses"
    assert {row[4] for row in rows(comparison, "changed")} == {"with fuel at empty"}


def test_a_lever_that_no_longer_springs_back_is_a_loss() -> None:
    text = (
        '{{terminals: {{"30": "30", "58": "58"}}, inside: ['
        "{{control: {{name: push, positions: [released, pressed]{}}}}}, "
        '{{contact: {{join: ["30", "58"], when: {{push: pressed}}}}}}]}}'
    )
    comparison = small(text.format(", returns: released"), text.format(""))
    assert rows(comparison, *SHORTFALLS) == {("lost", "push", "springs back to released", "none", "always")}


def test_a_contact_that_makes_before_it_breaks_is_said() -> None:
    text = (
        '{{terminals: {{"30": "30", "58": "58"}}, inside: [{{control: {{name: knob, positions: [a, b]}}}}, '
        '{{contact: {{join: ["30", "58"], when: {{knob: b}}{}}}}}]}}'
    )
    comparison = small(text.format(""), text.format(", overlaps: true"))
    assert rows(comparison, *SHORTFALLS) == {
        ("unintended", "knob", "none", "makes before it breaks", "always")
    }


def test_an_own_feed_in_place_of_a_switched_one_is_a_change() -> None:
    """Fed without the ignition, the outlet works when it should not."""
    text = (
        '{{terminals: {{{0}: "{1}", "53": "53"}}, inside: [{{control: {{name: knob, positions: [a, b]}}}}, '
        '{{contact: {{join: [{0}, "53"], when: {{knob: b}}}}}}]}}'
    )
    comparison = small(text.format("I", "15"), text.format("B", "30"))
    assert comparison.verdict == "does not fit"
    assert rows(comparison, *SHORTFALLS) == {("changed", "53", "joined to I", "joined to B", "with knob b")}


def test_a_terminal_called_otherwise_is_paired_where_it_does_the_very_same() -> None:
    text = (
        '{{terminals: {{"30": "30", {0}: "{1}"}}, inside: [{{control: {{name: knob, positions: [a, b]}}}}, '
        '{{contact: {{join: ["30", {0}], when: {{knob: b}}}}}}]}}'
    )
    comparison = small(text.format("X", "58"), text.format("Y", "54"))
    assert pairs(comparison) == {"30": "30", "X": "Y"}
    assert small(text.format("X", "58"), text.format("X", "54")).verdict != "drop-in"
    assert pairs(small(text.format("X", "58"), text.format("X", "54"))) == {"30": "30"}


def test_terminals_without_a_role_go_by_their_contacts() -> None:
    text = (
        '{{terminals: {{"30": "30", a: "", b: ""}}, inside: ['
        "{{control: {{name: knob, positions: [x, y, z]}}}}, "
        '{{contact: {{join: ["30", {0}], when: {{knob: y}}}}}}, '
        '{{contact: {{join: ["30", {1}], when: {{knob: z}}}}}}]}}'
    )
    assert pairs(small(text.format("a", "b"), text.format("b", "a"))) == {"30": "30", "a": "b", "b": "a"}


def test_fewer_ends_on_a_terminal_and_another_size_are_work() -> None:
    text = (
        '{{terminals: {{"30": {{role: "30", {}}}, "58": "58"}}, '
        'inside: [{{contact: {{join: ["30", "58"]}}}}]}}'
    )
    comparison = small(text.format("holds: 3"), text.format("fitting: stud-5"))
    assert work(comparison, "30") == (
        "re-end it: an M5 ring instead of a 6.3 mm push-on terminal",
        "takes 1 end, the original 3 ends: a piggyback or a joiner for more",
    )
    assert comparison.verdict == "fits with rewiring"


def test_a_case_that_must_not_be_earthed_is_said() -> None:
    comparison = small(LAMP, LAMP.replace("{terminals", "{must_not_be_earthed: true, terminals", 1))
    assert comparison.verdict == "fits with rewiring"
    assert says(comparison, "Its case must not touch the body")


def test_a_load_behind_another_is_known_by_its_neighbour() -> None:
    text = (
        '{{terminals: {{"58": "58", "31": "31"}}, nodes: [n, m], inside: ['
        '{{lamp: {{between: ["58", n], watts: 5, does: first}}}}, '
        '{{lamp: {{between: [n, "31"], watts: 5, does: second}}}}{}]}}'
    )
    loose = ", {{lamp: {{between: [n, m], watts: 5, does: loose}}}}".replace("{{", "{").replace("}}", "}")
    assert small(text.format(""), text.format("")).verdict == "drop-in"
    # An end that hangs free carries nothing, so what hangs there is as good as absent.
    assert small(text.format(""), text.format(loose)).verdict == "drop-in"


def test_too_many_positions_are_refused_by_name() -> None:
    outputs = [f"c{n}" for n in range(12)]
    data: Mapping[str, Any] = {
        "terminals": {"30": "30", "58": "58"},
        "inside": [
            *({"control": {"name": name, "positions": ["off", "on"]}} for name in outputs),
            {"contact": {"join": ["30", "58"], "when": dict.fromkeys(outputs, "on")}},
        ],
    }
    part = make_part("many", data)
    with pytest.raises(TooLargeError, match="12 controls and states"):
        compare_parts(part, part, ROLES)


# -- random switches against the real circuit --------------------------------------------------------------

MARKS = {"a": "30", "b": "58", "c": "54"}
DETENTS = ("off", "low", "high")


@st.composite
def switches(draw: st.DrawFn) -> Part:
    """A switch with three terminals and any contacts, under any marks."""
    marks = draw(st.sampled_from(list(permutations("xyz"))))
    named = dict(zip(MARKS, marks, strict=True))
    joins = st.sampled_from([("a", "b"), ("a", "c"), ("b", "c"), ("a", "b", "c")])
    contact = st.tuples(joins, st.sets(st.sampled_from(DETENTS), min_size=1))
    contacts = draw(st.lists(contact, max_size=3))
    inside: list[Any] = [{"control": {"name": "knob", "positions": list(DETENTS)}}]
    inside += [
        {"contact": {"join": [named[m] for m in join], "when": {"knob": sorted(when)}}}
        for join, when in contacts
    ]
    return make_part("switch", {"terminals": {named[m]: MARKS[m] for m in MARKS}, "inside": inside})


PROBE = make_part(
    "probe",
    read(
        '{terminals: {"58": "58", "31": "31"}, inside: [{lamp: {between: ["58", "31"], watts: 5, does: x}}]}'
    ),
)


def seen(part: Part) -> dict[tuple[str, str, str], str]:
    """How a lamp on one terminal appears with the feed on another, by role, in each position."""
    mark = {t.role: m for m, t in part.terminals.items()}
    found = {}
    for fed, probed in permutations(MARKS.values(), 2):
        bench = Bench(
            {"switch": part, "probe": PROBE},
            {"s": "switch", "p": "probe"},
            [f"feed:live > s:{mark[fed]}", f"s:{mark[probed]} > p:58", "p:31 > earth"],
            {"live": {"role": "30"}},
        )
        for knob in DETENTS:
            found[fed, probed, knob] = bench.shows_in("p/x", {"s/knob": knob})
    return found


@settings(max_examples=60, deadline=None)
@given(switches(), switches())
def test_switches_are_alike_just_where_the_circuit_sees_no_difference(one: Part, other: Part) -> None:
    comparison = compare_parts(one, other, ROLES)
    are_alike = not rows(comparison, *SHORTFALLS)
    assert are_alike == (seen(one) == seen(other))
    assert pairs(comparison) == {
        m: n for m, t in one.terminals.items() for n, u in other.terminals.items() if t.role == u.role
    }


@settings(max_examples=60, deadline=None)
@given(switches())
def test_any_switch_is_a_drop_in_for_itself(part: Part) -> None:
    assert compare_parts(part, part, ROLES).verdict == "drop-in"


@settings(max_examples=60, deadline=None)
@given(switches(), switches())
def test_kept_joints_are_the_same_either_way_round(one: Part, other: Part) -> None:
    there, back = compare_parts(one, other, ROLES), compare_parts(other, one, ROLES)
    assert bool(rows(there, "lost", "changed")) == bool(rows(back, "unintended", "changed"))
    assert (there.verdict == "drop-in") == (back.verdict == "drop-in")
