"""One part against another over the whole catalogue, and the document of a comparison."""

from dataclasses import asdict
from itertools import combinations, product

import pytest
from comparisons import CATALOGUE, PARTS, pairs, says, shipped, small

from planner.model.contact_table import table_of
from planner.model.elements import Contact, Diode, Fuse, Gauge, Lamp, Resistor, Sender, Source, Winding
from planner.model.purpose import another_kind
from planner.model.same_variables import match_variables
from planner.proof.part_compare import compare_parts
from planner.proof.part_facts import PartFacts

RELATIVES = [
    (one.part, other.part)
    for one in PARTS.values()
    for other in PARTS.values()
    if one.family == other.family and not another_kind(one, other) and one.part != other.part
]
OF_OTHER_KINDS = [
    (one.part, other.part)
    for one, other in combinations(PARTS.values(), 2)
    if one.family == other.family and another_kind(one, other)
]


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
    names = match_variables(PARTS[other], PARTS[one]).names  # a control is told by the name on the original
    assert {
        r.what for r in there.behaviours if r.outcome == "lost" and r.original not in ("joined", "a position")
    } <= {
        names.get(r.what, r.what) for r in back.behaviours if r.outcome in ("gained", "unintended", "changed")
    }
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
    assert says(comparison, "another kind of part: auxiliary-lamp, not horn")


@pytest.mark.parametrize(("one", "other"), OF_OTHER_KINDS[::7])
def test_parts_of_one_family_that_have_no_work_in_common_do_not_fit(one: str, other: str) -> None:
    for comparison in (shipped(one, other), shipped(other, one)):
        assert comparison.verdict == "does not fit"
        assert says(comparison, "another kind of part")


def test_of_what_kind_two_gauges_are_is_told_by_what_they_show() -> None:
    comparison = shipped("fuel-gauge-10-180", "oil-gauge-10-184")
    assert says(comparison, "another kind of part: gauge (oil gauge), not gauge (fuel gauge)")


def test_where_the_vehicle_works_the_original_it_is_said_that_the_other_has_a_switch_of_its_own() -> None:
    comparison = small(
        '{terminals: {in: "15", out: "54"}, inside: [{contact: {join: [in, out], when: {pedal: pressed}}}]}',
        '{terminals: {A: "15", B: "54"}, inside: [{control: {name: position, positions: [rest, pressed]}}, {'
        "contact: {join: [A, B], when: {position: pressed}}}]}",
    )
    assert says(comparison, "pedal of the vehicle works the original, and 'position' is a switch of its own")
