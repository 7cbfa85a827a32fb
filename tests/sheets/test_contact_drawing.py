"""Contact tables are drawn within 80 columns: rows positions, columns terminals, lines what is joined."""

import pytest
from hand_made import text_of
from planned import catalogue

from planner.model.part import Part
from planner.sheets.build.contact_drawing import WIDEST, draw_contacts
from planner.sheets.build.contact_rows import contact_rows
from planner.sheets.build.parts import part_sheet
from planner.sheets.render.terminal import fit_encoding


def _drawn(name: str) -> list[str]:
    part = catalogue().parts[name]
    (table,) = contact_rows(part)
    return list(draw_contacts(part, table).lines)


def _part(marks: list[str], inside: list[object]) -> Part:
    data = {"part": "p", "title": "P", "family": "f", "source": "s", "terminals": {m: {} for m in marks}}
    return Part.model_validate({**data, "inside": inside})


def _lines(part: Part) -> list[str]:
    (table,) = contact_rows(part)
    return list(draw_contacts(part, table).lines)


def test_an_ignition_switch_is_drawn_position_by_position():
    assert _drawn("ignition-switch-early") == [
        "┌──────────┬───────────────────┐",
        "│ Ignition │ A    IG   AC   ST │",
        "├──────────┼───────────────────┤",
        "│ off      │ ·    ·    ·    ·  │",
        "│ on       │ ●────●────●    ·  │",
        "│ start    │ ●────●────●────●  │",
        "└──────────┴───────────────────┘",
    ]


def test_a_wiper_motor_is_drawn_by_where_its_blades_are():
    assert _drawn("wiper-motor-two-speed")[3:5] == [
        "│ parked   │ ·    ●────●  │",
        "│ sweeping │ ●────●    ·  │",
    ]


def test_a_relay_passes_over_the_contact_that_it_does_not_join():
    assert _drawn("relay-changeover-a")[3:5] == [
        "│ released │ ·    ●────●  │",
        "│ pulled   │ ●─────────●  │",
    ]


def test_two_joints_that_cross_have_a_line_each_and_no_dot_where_the_other_joins():
    assert _drawn("dip-relay-five")[3:-1] == [
        "│ dipped │ released │ ·    ●─────────● │",
        "│ dipped │ pulled   │ ●─────────●      │",
        "│        │          │      ●─────────● │",
        "│ main   │ released │ ·    ●────●    · │",
        "│ main   │ pulled   │ ●─────────●    · │",
    ]


def test_two_joints_side_by_side_share_a_line():
    on = [{"contact": {"join": pair, "when": {"k": "on"}}} for pair in (["a", "b"], ["c", "d"])]
    lines = _lines(_part(["a", "b", "c", "d"], [{"control": {"name": "k", "positions": ["off", "on"]}}, *on]))
    assert lines[-2] == "│ on  │ ●────●    ●────● │"


def test_what_is_always_joined_is_a_row_of_its_own():
    assert _lines(_part(["a", "b"], [{"contact": {"join": ["a", "b"]}}]))[3] == "│ always │ ●────● │"


def test_an_eight_terminal_switch_with_long_marks_fits_80_columns():
    marks = [f"terminal-{n}" for n in range(8)]
    positions = [{"control": {"name": "key", "positions": ["lock", "accessory", "on", "start"]}}]
    joints = [{"contact": {"join": ["terminal-0", mark], "when": {"key": "on"}}} for mark in marks[1:]]
    lines = _lines(_part(marks, [*positions, *joints]))
    assert max(map(len, lines)) <= WIDEST
    assert "●──●──●──●──●──●──●──●" in lines[-3]
    written = ["".join(line.split("│")[2][1 + 3 * n] for line in lines[1:11]) for n in range(8)]
    assert written == [mark.ljust(10) for mark in marks]


def test_long_words_of_positions_are_wrapped():
    meaning = "a meaning that goes on and on until nobody reads it"
    controls = [{"control": {"name": name, "positions": [{"1": meaning}, "2"]}} for name in "km"]
    contact = {"join": ["a", "b"], "when": {"k": "1", "m": "1"}}
    lines = _lines(_part(["a", "b"], [*controls, {"contact": contact}]))
    assert max(map(len, lines)) <= WIDEST
    assert len(lines) > 3 + 4 + 1


@pytest.mark.parametrize("name", sorted(catalogue().parts))
def test_every_shipped_part_is_drawn_within_80_columns_and_joins_what_it_joins(name):
    part = catalogue().parts[name]
    assert max(map(len, text_of(part_sheet(part, catalogue())).splitlines())) <= 80
    for table in contact_rows(part):
        lines = draw_contacts(part, table).lines
        assert len({len(line) for line in lines}) == 1 and len(lines[0]) <= WIDEST
        dots = sum(line.count("●") for line in lines)
        assert dots == sum(len(group) for _, groups in table.rows for group in groups)


def test_it_is_drawn_in_plain_characters_where_the_output_has_no_others():
    text = fit_encoding("\n".join(_drawn("relay-changeover-a")), "ascii")
    assert "| released | .    o----o  |" in text and "?" not in text
