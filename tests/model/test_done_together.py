"""One control split in several: which of them, worked together, do what a position that is gone did."""

from test_same_variables import contact, control, part

from planner.model.control_words import worked_together
from planner.model.done_together import done_together, is_done_together
from planner.model.part import Part
from planner.model.same_variables import match_variables

ROLES = {"30": "30", "58": "58", "56": "56"}
OLD = part(
    ROLES, control("lighting", "off", "side", "head"),
    contact("30", "58", lighting=["side", "head"]), contact("30", "56", lighting="head"),
)  # fmt: skip
SPLIT = part(
    ROLES, control("rocker", "off", "side"), control("second", "off", "head"),
    contact("30", "58", rocker="side"), contact("30", "56", second="head"),
)  # fmt: skip


def together(old: Part, new: Part) -> list[tuple[str, str, dict[str, str]]]:
    names = match_variables(old, new).names
    return [(name, label, dict(way)) for name, label, way in done_together(old, new, names)]


def test_two_rockers_do_together_what_one_position_did() -> None:
    assert together(OLD, SPLIT) == [("lighting", "head", {"rocker": "side", "second": "head"})]
    assert list(worked_together(OLD, SPLIT, match_variables(OLD, SPLIT))) == [
        "the new part has no 'lighting' at head; with 'rocker' at side and 'second' at head it does the same"
    ]


def test_a_control_is_split_if_several_do_all_that_is_gone_of_it() -> None:
    names = match_variables(OLD, SPLIT).names
    assert is_done_together(OLD, SPLIT, names, "lighting")
    assert not is_done_together(OLD, OLD, match_variables(OLD, OLD).names, "lighting")
    more = part(
        {**ROLES, "55": "55"}, control("lighting", "off", "side", "head", "fog"),
        contact("30", "58", lighting=["side", "head"]), contact("30", "56", lighting="head"),
        contact("30", "55", lighting="fog"),
    )  # fmt: skip
    assert not is_done_together(more, SPLIT, match_variables(more, SPLIT).names, "lighting")


def test_what_nothing_of_the_new_part_does_is_not_told_to_be_done() -> None:
    poorer = part(ROLES, control("rocker", "off", "side"), contact("30", "58", rocker="side"))
    assert together(OLD, poorer) == []


def test_a_position_that_is_there_needs_no_other_way() -> None:
    assert together(OLD, OLD) == []


def test_a_position_that_does_no_more_than_rest_needs_none() -> None:
    idle = part(ROLES, control("lighting", "off", "idle", "side"), contact("30", "58", lighting="side"))
    assert together(idle, SPLIT) == []


def test_the_way_that_moves_least_is_told() -> None:
    more = part(
        ROLES, control("a"), control("b"), control("c"),
        contact("30", "58", a="on"), contact("30", "58", b="on"), contact("30", "56", b="on"),
        contact("30", "56", c="on"),
    )  # fmt: skip
    assert ("lighting", "head", {"b": "on"}) in together(OLD, more)


def test_two_terminals_of_one_purpose_are_one() -> None:
    linked = part(
        {"A1": "30", "A2": "30", "58": "58", "56": "56"}, control("lighting", "off", "side", "head"),
        contact("A1", "A2"), contact("A1", "58", lighting=["side", "head"]),
        contact("A2", "56", lighting="head"),
    )  # fmt: skip
    assert together(linked, SPLIT) == [("lighting", "head", {"rocker": "side", "second": "head"})]
