"""Readings as the tables of the relay bases say: the base is found, what is swapped is told or said alike."""

from collections.abc import Callable, Mapping
from itertools import combinations

import pytest

from planner.inquiry.part.identify import Identification, identify
from planner.model.catalogue import Catalogue
from planner.model.part import Part
from planner.model.readings import BenchReadings, Reading, Says
from planner.problems import FilePlace

BASES = ("make", "changeover", "twin-output make", "break")
REST, FED = "coil at rest", "coil fed"
Table = Callable[[str], list[dict[str, str]]]


def contacts(table: Table, base: str) -> dict[str, str]:
    """Each contact of a base and what it does; a remark on its currents follows further down the table."""
    found: dict[str, str] = {}
    for row in table("relays"):
        if row["base"] == base:
            found.setdefault(row["contact"], row["role"])
    return found


def coil_ohms(table: Table) -> float:
    (row,) = (r for r in table("relays") if r["role"] == "typical coil resistance")
    return (float(row["low"]) + float(row["high"])) / 2


def bench(table: Table, base: str, names: Mapping[str, str]) -> BenchReadings:
    """What a meter reads on a base, coil at rest and fed; ``names`` are the person's of its contacts."""
    roles = contacts(table, base)
    groups = {
        REST: {"30", *(c for c, role in roles.items() if "joined to 30 while the coil is at rest" in role)},
        FED: {"30", *(c for c, role in roles.items() if "while the coil is energised" in role)},
    }
    if base == "twin-output make":
        assert groups[FED] == {"30", "87", "87b"}
    readings = []
    for position, group in groups.items():
        for one, other in combinations(roles, 2):
            says: Says = "closed" if {one, other} <= group else "open"
            if {one, other} == {"85", "86"}:
                if position == FED:
                    continue  # the battery is there
                says = coil_ohms(table)
            place = FilePlace("bench.csv", len(readings) + 2, 1)
            readings.append(Reading(position, names[one], names[other], says, str(says), place))
    return BenchReadings(tuple(names[c] for c in roles), (REST, FED), tuple(readings), frozenset({FED}))


def lettered(roles: Mapping[str, str]) -> dict[str, str]:
    return {contact: f"T{number}" for number, contact in enumerate(sorted(roles, reverse=True))}


def relays(found: Identification) -> list[Part]:
    return [e.part for e in found.explanations if e.part.family == "relay"]


@pytest.mark.parametrize("base", BASES)
def test_only_relays_of_the_base_explain_its_readings(base: str, catalogue: Catalogue, table: Table) -> None:
    roles = contacts(table, base)
    found = identify(bench(table, base, lettered(roles)), catalogue.parts.values())
    assert found.contradictions == ()
    assert all(set(part.terminals) == set(roles) for part in relays(found))
    if base in ("make", "changeover"):
        assert relays(found)


@pytest.mark.parametrize("layout", ["relay-changeover-a", "relay-changeover-b"])
def test_a_changeover_relay_is_found_with_each_contact(
    layout: str, catalogue: Catalogue, table: Table
) -> None:
    names = lettered(contacts(table, "changeover"))
    found = identify(bench(table, "changeover", names), catalogue.parts.values())
    assert {family for family, _ in found.kinds} == {"relay"}
    assert found.is_decided
    (only,) = (e for e in found.explanations if e.part.part == layout)
    for contact in ("30", "87", "87a"):
        assert only.marks[names[contact]] == contact
        assert only.other_marks[names[contact]] == ()
    for contact in ("85", "86"):
        assert {only.marks[names[contact]], *only.other_marks[names[contact]]} == {"85", "86"}


@pytest.mark.parametrize("base", ["make", "changeover"])
def test_two_contacts_exchanged_are_told_or_said_to_be_alike(
    base: str, catalogue: Catalogue, table: Table
) -> None:
    """Someone reads by the places of a base on which two contacts have changed places."""
    roles = contacts(table, base)
    straight = bench(table, base, {contact: contact for contact in roles})
    part = relays(identify(straight, catalogue.parts.values()))[0]
    for one, other in combinations(roles, 2):
        names = {contact: {one: other, other: one}.get(contact, contact) for contact in roles}
        (only,) = identify(bench(table, base, names), [part]).explanations
        alike = {one, other} == {"85", "86"} or (base == "make" and {one, other} == {"30", "87"})
        if alike:  # the table says so of the coil; a make contact has no direction on a meter
            assert other in {only.marks[one], *only.other_marks[one]}
            assert one in {only.marks[one], *only.other_marks[one]}
        else:
            possible = {name: {only.marks[name], *only.other_marks[name]} for name in roles}
            assert one not in possible[one] or other not in possible[other], (one, other)


@pytest.mark.parametrize(("axis", "is_told"), [(0, False), (1, True)])
def test_a_mirrored_face_is_told_or_said_to_be_alike(
    axis: int, is_told: bool, catalogue: Catalogue, table: Table
) -> None:
    """Layout A read off a drawing that is mirrored left to right, then top to bottom."""
    part = catalogue.parts["relay-changeover-a"]
    faces = {mark: terminal.face for mark, terminal in part.terminals.items() if terminal.face}
    both = min(f[axis] for f in faces.values()) + max(f[axis] for f in faces.values())
    at = {face: mark for mark, face in faces.items()}
    names = {
        mark: at[(both - column, row) if axis == 0 else (column, both - row)]
        for mark, (column, row) in faces.items()
    }
    assert names != {mark: mark for mark in names}
    (only,) = identify(bench(table, "changeover", names), [part]).explanations
    wrong = [name for name in names if name not in {only.marks[name], *only.other_marks[name]}]
    assert bool(wrong) is is_told
    moved = [mark for mark, name in names.items() if mark != name]
    assert set(wrong) <= set(moved)


def test_of_the_two_layouts_only_the_marks_and_not_the_meter_tell(catalogue: Catalogue, table: Table) -> None:
    names = lettered(contacts(table, "changeover"))
    found = identify(bench(table, "changeover", names), catalogue.parts.values())
    assert {"relay-changeover-a", "relay-changeover-b"} <= {e.part.part for e in found.explanations}
    assert found.next is None
