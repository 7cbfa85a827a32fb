"""Which control of a new part is which of the old one's: by positions, by what it does, else it is told."""

from typing import Any

from planner.model.old_names import called_as
from planner.model.part import Part
from planner.model.same_positions import PositionPair, count_shared, same_positions
from planner.model.same_variables import MAX_WAYS, crossed_names, match_variables


def part(terminals: dict[str, str | None], *inside: dict[str, Any]) -> Part:
    """A part of terminals with their roles."""
    return Part.model_validate(
        {
            "part": "tiny",
            "title": "Tiny",
            "family": "switch",
            "source": "invented",
            "terminals": {mark: {"role": role} if role else {} for mark, role in terminals.items()},
            "inside": inside,
        }
    )


def control(name: str, *positions: Any) -> dict[str, Any]:
    return {"control": {"name": name, "positions": positions or ("off", "on")}}


def contact(*join: str, **when: Any) -> dict[str, Any]:
    return {"contact": {"join": join, "when": when}}


def positions(text: str) -> list[tuple[str, str]]:
    """Positions as label:meaning; a label alone is its own meaning."""
    return [(label, meaning or label) for label, _, meaning in (p.partition(":") for p in text.split())]


def paired(old: str, new: str) -> list[tuple[str | None, str | None]]:
    ours, theirs = positions(old), positions(new)
    return [
        (ours[p.old][0] if p.old is not None else None, theirs[p.new][0] if p.new is not None else None)
        for p in same_positions(ours, theirs)
    ]


ROLES = {"30": "30", "58": "58", "71": "71"}
SIDE_AND_HORN = part(
    ROLES, control("side"), control("horn"), contact("30", "58", side="on"), contact("30", "71", horn="on")
)


def test_positions_pair_by_meaning_whatever_their_labels_and_order() -> None:
    assert paired("off side head", "II:head 0:off I:side") == [("head", "II"), ("off", "0"), ("side", "I")]


def test_a_label_that_says_what_the_other_means_pairs_where_no_meaning_does() -> None:
    assert paired("off head", "off 2:head-lamps") == [("off", "off"), (None, "2"), ("head", None)]
    assert paired("off head", "off head:head-lamps") == [("off", "off"), ("head", "head")]
    assert paired("off on:slow", "off on:fast") == [("off", "off"), (None, "on"), ("on", None)]


def test_a_label_never_takes_a_position_from_one_of_its_meaning() -> None:
    assert paired("off slow", "off slow:fast I:slow") == [("off", "off"), (None, "slow"), ("slow", "I")]


def test_every_position_of_one_meaning_is_compared_with_the_one_that_is_left_of_it() -> None:
    assert paired("off I:on II:on", "off on") == [("off", "off"), ("I", "on"), ("II", "on")]
    assert paired("off on", "off I:on II:on") == [("off", "off"), ("on", "I"), ("on", "II")]
    assert count_shared(same_positions(positions("off I:on II:on"), positions("off on"))) == 2


def test_pairs_are_of_numbers_in_order() -> None:
    assert same_positions(positions("a b"), positions("b c")) == (
        PositionPair(1, 0),
        PositionPair(None, 1),
        PositionPair(0, None),
    )


def test_the_only_control_with_the_positions_is_it_whatever_its_name() -> None:
    old = part(ROLES, control("lighting", "off", "side", "head"), control("flash"))
    new = part(ROLES, control("lever"), control("lamps", "off", "side", "head"))
    match = match_variables(old, new)
    assert dict(match.names) == {"lighting": "lamps", "flash": "lever"}
    assert dict(match.undecided) == {}


def test_a_control_with_more_positions_is_still_it() -> None:
    old = part(ROLES, control("lighting", "off", "side", "head"))
    new = part(ROLES, control("fog", "off", "on"), control("lamps", "off", "side", "head", "parking"))
    assert dict(match_variables(old, new).names) == {"lighting": "lamps"}


def test_a_name_gives_way_to_a_control_that_shares_more_positions() -> None:
    old = part(ROLES, control("lighting", "off", "side", "head"), control("dimmer"))
    new = part(ROLES, control("lamps", "off", "side", "head"), control("lighting"))
    match = match_variables(old, new)
    assert dict(match.names) == {"lighting": "lamps", "dimmer": "lighting"}
    assert called_as(old, new) == {"lamps": "lighting", "lighting": "dimmer"}


def test_a_name_that_the_old_part_uses_for_something_else_is_not_kept() -> None:
    old = part(ROLES, control("lighting", "off", "side", "head"))
    new = part(ROLES, control("lamps", "off", "side", "head"), control("lighting", "dark", "bright"))
    assert called_as(old, new) == {"lamps": "lighting", "lighting": "lighting of the new part"}


def test_like_switches_are_told_apart_by_what_they_feed() -> None:
    new = part(ROLES, control("x"), control("y"), contact("30", "71", x="on"), contact("30", "58", y="on"))
    match = match_variables(SIDE_AND_HORN, new)
    assert dict(match.names) == {"side": "y", "horn": "x"}
    assert dict(match.undecided) == {}


def test_like_switches_without_roles_are_told_apart_by_what_goes_together() -> None:
    old = part(
        dict.fromkeys("12345"), control("a"), control("b"),
        contact("1", "2", a="on"), contact("3", "4", "5", b="on"),
    )  # fmt: skip
    new = part(
        dict.fromkeys("PQRST"), control("x"), control("y"),
        contact("P", "Q", "R", x="on"), contact("S", "T", y="on"),
    )  # fmt: skip
    match = match_variables(old, new)
    assert (dict(match.names), dict(match.undecided)) == ({"a": "y", "b": "x"}, {})


def test_like_switches_without_roles_are_told_apart_by_equal_marks() -> None:
    old = part(
        dict.fromkeys("1234"),
        control("a"),
        control("b"),
        contact("1", "2", a="on"),
        contact("3", "4", b="on"),
    )
    new = part(
        dict.fromkeys("1234"),
        control("x"),
        control("y"),
        contact("3", "4", x="on"),
        contact("1", "2", y="on"),
    )
    match = match_variables(old, new)
    assert (dict(match.names), dict(match.undecided)) == ({"a": "y", "b": "x"}, {})


def test_what_nothing_tells_apart_is_undecided_and_keeps_its_order() -> None:
    old = part(
        dict.fromkeys("1234"),
        control("a"),
        control("b"),
        contact("1", "2", a="on"),
        contact("3", "4", b="on"),
    )
    new = part(
        dict.fromkeys("PQRS"),
        control("x"),
        control("y"),
        contact("P", "Q", x="on"),
        contact("R", "S", y="on"),
    )
    match = match_variables(old, new)
    assert dict(match.names) == {"a": "x", "b": "y"}
    assert dict(match.undecided) == {"a": ("x", "y"), "b": ("y", "x")}


def test_switches_that_may_trade_places_without_any_difference_are_no_question() -> None:
    one = part(ROLES, control("a"), control("b"), contact("30", "58", a="on", b="on"))
    other = part(ROLES, control("x"), control("y"), contact("30", "58", x="on", y="on"))
    match = match_variables(one, other)
    assert (dict(match.names), dict(match.undecided)) == ({"a": "x", "b": "y"}, {})


def test_more_like_switches_than_can_be_tried_are_undecided() -> None:
    names = [f"s{n}" for n in range(7)]
    old = part({"30": "30"}, *(control(name) for name in names))
    new = part({"30": "30"}, *(control(f"{name} later") for name in names))
    match = match_variables(old, new)
    assert MAX_WAYS < 5040
    assert {name: len(others) for name, others in match.undecided.items()} == dict.fromkeys(names, 7)


def test_equal_names_that_do_one_anothers_work_keep_their_names_and_are_told() -> None:
    new = part(
        ROLES,
        control("side"),
        control("horn"),
        contact("30", "71", side="on"),
        contact("30", "58", horn="on"),
    )
    assert dict(match_variables(SIDE_AND_HORN, new).names) == {"side": "side", "horn": "horn"}
    assert crossed_names(SIDE_AND_HORN, new) == {"side": "horn", "horn": "side"}
    assert crossed_names(SIDE_AND_HORN, SIDE_AND_HORN) == {}


def test_one_control_split_in_two_keeps_what_it_shares_with_one_of_them() -> None:
    old = part(ROLES, control("lighting", "off", "side", "head"))
    new = part(ROLES, control("side lamps", "off", "side"), control("headlamps", "off", "head"))
    match = match_variables(old, new)
    assert dict(match.names) == {"lighting": "side lamps"}
    assert dict(match.undecided) == {"lighting": ("side lamps", "headlamps")}


def test_coils_and_what_remembers_are_matched_within_their_kind() -> None:
    def relay(coil: str, step: str) -> Part:
        return part(
            {"86": "86", "85": "85"},
            {"coil": {"between": ["86", "85"], "ohms": 60, "pulls_in_v": 7, "drops_out_v": 3, "name": coil}},
            {"step": {"name": step, "states": ["dipped", "main"], "stepped_by": coil}},
        )

    match = match_variables(relay("armature", "beam"), relay("magnet", "ratchet"))
    assert dict(match.names) == {"armature": "magnet", "beam": "ratchet"}
