"""A new part under the old one's names: its controls, and positions that do what another label did."""

from test_same_variables import contact, control, part

from planner.model.old_names import meanings_as
from planner.model.part import Part

ROLES = {"75": "75", "33": "33", "33f": "33f"}


def fan_switch(*positions: str, on: str, slow: str | None = None) -> Part:
    inside = [control("heater", *positions), contact("75", "33", heater=on)]
    return part(ROLES, *inside, *([contact("75", "33f", heater=slow)] if slow else []))


ONE_SPEED = fan_switch("off", "on", on="on")


def test_a_position_that_does_what_another_label_did_stands_for_it() -> None:
    new = fan_switch("off", "slow", "fast", on="fast", slow="slow")
    assert dict(meanings_as(ONE_SPEED, new)) == {("heater", "fast"): "on"}


def test_what_has_the_label_still_keeps_its_meaning() -> None:
    assert dict(meanings_as(ONE_SPEED, ONE_SPEED)) == {}
    new = fan_switch("off", "on", "fast", on="fast", slow="on")
    assert dict(meanings_as(ONE_SPEED, new)) == {}


def test_a_position_that_does_something_else_stands_for_nothing() -> None:
    poorer = part(ROLES, control("heater", "off", "slow"), contact("75", "33f", heater="slow"))
    assert dict(meanings_as(ONE_SPEED, poorer)) == {}


def test_what_two_controls_do_together_is_no_position_of_one() -> None:
    new = part(
        ROLES, control("heater", "off", "half"), control("boost", "off", "full"),
        contact("75", "33f", heater="half"), contact("75", "33", heater="half", boost="full"),
    )  # fmt: skip
    both = [contact("75", mark, heater="on") for mark in ("33", "33f")]
    old = part(ROLES, control("heater", "off", "on"), *both)
    assert dict(meanings_as(old, new)) == {}
