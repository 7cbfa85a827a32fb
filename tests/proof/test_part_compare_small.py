"""Small parts against each other, for what no pair of the catalogue shows."""

from collections.abc import Mapping
from typing import Any

import pytest
from comparisons import LAMP, SHORTFALLS, pairs, rows, says, small, work
from small_looms import ROLES, make_part

from planner.problems import TooLargeError
from planner.proof.part_compare import compare_parts


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


def test_the_ends_of_an_ammeter_that_has_no_place_there_are_joined_not_tied_back() -> None:
    def dial(terminals: str, between: str, ohms: str, does: str) -> str:
        gauge = f"between: {between}, ohms: {ohms}, full_scale_amps: 30, does: {does}"
        return f"{{terminals: {terminals}, inside: [{{gauge: {{{gauge}}}}}]}}"

    meter = dial('{"1": "30", "2": "30"}', '["1", "2"]', "0.002", "amps")
    compared = small(meter, dial('{I: "15", E: "31"}', "[I, E]", "300", "volts"))
    assert work(compared, "1") == ("join it with the end from 2: what is fed beyond goes through here",)
    assert work(compared, "2") == ("join it with the end from 1: what is fed beyond goes through here",)
    assert "tie it back" in work(small(meter.replace("0.002", "300"), LAMP), "1")[0]


def test_the_ends_of_a_return_pole_that_is_not_there_any_more_are_joined() -> None:
    control = '{control: {name: main, positions: ["off", "on"]}}'
    live = '{contact: {join: ["30", "58"], when: {main: "on"}}}'
    back = '{contact: {join: [N2, "31"], when: {main: "on"}}}'
    marks = '{"30": "30", "58": "58", "31": "31", N2: ""}'
    two = f"{{terminals: {marks}, inside: [{control}, {live}, {back}]}}"
    one = f'{{terminals: {{"30": "30", "58": "58"}}, inside: [{control}, {live}]}}'
    joined = ("join it with the end from N2: what is fed beyond goes through here",)
    assert work(small(two, one), "31") == joined
