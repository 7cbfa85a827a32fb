"""Roles against DIN 72552-2, terminal meanings; basis row by row in the table (confirmed, or memory)."""

import pytest

DIN = "DIN 72552"


def test_every_din_role_has_the_meaning_of_the_standard(catalogue, table):
    current = {r["designation"]: r for r in table("terminals") if r["group"] != "old marking"}
    claimed = {name: role for name, role in catalogue.roles.items() if role.source == DIN}
    assert len(claimed) > 50
    for name, role in claimed.items():
        assert name in current, f"{name} is no designation of the standard"
        assert role.meaning == current[name]["meaning"], name
        assert role.basis == current[name]["basis"], name


def test_words_of_ours_are_no_designations(catalogue, table):
    """A word of ours must not be mistaken for a mark of the standard, today's or an older one."""
    designations = {r["designation"] for r in table("terminals")}
    ours = {name: role for name, role in catalogue.roles.items() if role.source != DIN}
    assert ours
    assert not designations & set(ours)
    assert {(role.source, role.basis) for role in ours.values()} == {("ours", "invented")}


def test_inputs_of_the_standard_come_before_their_outputs(catalogue, table):
    """49 before 49a, 81 before 81a: the ranks are ours, the direction is the standard's."""
    direction = {r["designation"]: r["direction"] for r in table("terminals") if r["group"] != "old marking"}
    pairs = [
        (name, other)
        for name in catalogue.roles
        for other in catalogue.roles
        if other[:-1] == name and direction.get(name) == "input" and direction.get(other) == "output"
    ]
    assert ("49", "49a") in pairs
    for name, other in pairs:
        assert catalogue.roles[name].rank < catalogue.roles[other].rank, (name, other)


@pytest.mark.parametrize("mark", ["31", "D-", "B-"])
def test_returns_straight_to_the_battery_are_earth(catalogue, table, mark):
    (row,) = (r for r in table("terminals") if r["designation"] == mark and r["group"] != "old marking")
    assert row["direction"] == "return"
    assert catalogue.roles[mark].rank == 100


def test_late_parts_use_marks_with_their_own_role(catalogue, table):
    """A mark that is a designation has the role of that name; fuse boxes and sockets only count."""
    designations = {r["designation"] for r in table("terminals") if r["group"] != "old marking"}
    din_roles = {name for name, role in catalogue.roles.items() if role.source == DIN}
    counted = ("fuse-box", "trailer-socket")
    late = [p for p in catalogue.parts.values() if p.years == "1967-1974" and p.family not in counted]
    checked = 0
    for part in late:
        for mark, terminal in part.terminals.items():
            if mark in designations and terminal.role in din_roles:
                checked += 1
                assert terminal.role == mark, f"{part.part}: {mark} has the role {terminal.role}"
    assert checked > 20
