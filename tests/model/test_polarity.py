"""What a part's data tell of the other pole: what is said outranks what is inside; silence is a question."""

from typing import Any

import pytest

from planner.model.loom import Supply
from planner.model.part import Part
from planner.model.polarity import polarity_of, reversing_leads, suits_pole

LAMP = {"lamp": {"between": ["a", "b"], "watts": 5, "does": "shine"}}
FLASHER: dict[str, Any] = {"between": ["a", "b"], "needs_amps": 1, "name": "beat"}
DIODE = {"diode": {"between": ["b", "a"]}}
MOTOR = {"winding": {"between": ["a", "b"], "watts": 5, "does": "turn"}}
COIL = {"coil": {"between": ["a", "b"], "ohms": 60, "pulls_in_v": 7, "drops_out_v": 3, "name": "armature"}}
METER = {"gauge": {"between": ["a", "b"], "ohms": 1, "full_scale_amps": 1, "does": "show"}}


def part(*inside: Any, polarity: str | None = None, by: str = "wire") -> Part:
    terminals = {"a": {}, "b": {"by": by}, "c": {}}
    return Part.model_validate(
        {"part": "p", "title": "P", "family": "f", "source": "s", "terminals": terminals, "nodes": ["n"],
         "inside": inside, "polarity": polarity}
    )  # fmt: skip


@pytest.mark.parametrize(
    ("inside", "expected"),
    [
        ((LAMP,), "indifferent"),
        (
            (COIL, {"contact": {"join": ["a", "b"]}}, {"fuse": {"between": ["a", "c"], "amps": 8}}),
            "indifferent",
        ),
        (({"resistor": {"between": ["a", "b"], "ohms": 5}},), "indifferent"),
        (({"flasher": FLASHER | {"kind": "thermal", "heater_ohms": 60}},), "indifferent"),
        ((COIL, DIODE), "reverses"),
        (({"diode": {"between": ["b", "a"], "drop_v": 0}},), "indifferent"),
        (({"led": {"between": ["a", "b"], "watts": 5, "does": "shine"}},), "reverses"),
        ((MOTOR,), None),
        ((LAMP, METER), None),
        (({"flasher": FLASHER | {"kind": "electronic"}},), None),
        (({"resistor": {"between": ["a", "b"], "ohms": 5, "does": "play"}},), None),
        (({"source": {"between": ["a", "b"], "volts": 12, "when": {"engine": "running"}}},), None),
    ],
)
def test_elements_tell_what_they_can(inside: tuple[Any, ...], expected: str | None) -> None:
    assert polarity_of(part(*inside)) == expected


def test_what_a_part_says_outranks_what_is_inside() -> None:
    assert polarity_of(part(MOTOR, polarity="indifferent")) == "indifferent"
    assert polarity_of(part(LAMP, polarity="negative-earth")) == "negative-earth"


@pytest.mark.parametrize(
    ("polarity", "negative", "positive"),
    [
        ("negative-earth", True, False),
        ("positive-earth", False, True),
        ("reverses", True, True),
        ("repolarise", True, True),
        ("indifferent", True, True),
        (None, True, True),
    ],
)
def test_only_what_is_made_for_one_pole_does_not_suit_the_other(
    polarity: str | None, negative: bool, positive: bool
) -> None:
    made = part(MOTOR, polarity=polarity)
    assert suits_pole(made, Supply(volts=12, earthed="negative")) is negative
    assert suits_pole(made, Supply(volts=12, earthed="positive")) is positive


def test_leads_are_exchanged_between_the_terminals_of_what_has_a_direction() -> None:
    assert reversing_leads(part(MOTOR)) == ("a", "b")
    assert reversing_leads(part(COIL, DIODE)) == ("b", "a")
    assert reversing_leads(part(METER, MOTOR)) == ("a", "b")


def test_leads_are_not_exchanged_where_that_turns_only_a_part_of_it() -> None:
    assert reversing_leads(part(MOTOR, {"diode": {"between": ["a", "c"]}})) is None
    assert reversing_leads(part(MOTOR, by="mounting")) is None
    assert reversing_leads(part({"diode": {"between": ["n", "a"]}})) is None
    assert reversing_leads(part(LAMP)) is None
