"""Where the ends of a part that came out are: on one terminal there, on several, tied back."""

from small_looms import Bench, make_parts

from planner.model.delta import copy_loom
from planner.model.ends_after import terminals_taken

PARTS = make_parts(
    """
    old: {terminals: {A: "30", B: "58", C: "56"}, inside: [{contact: {join: [A, B]}}]}
    new: {terminals: {X: "30", Y: "58"}, inside: [{contact: {join: [X, Y]}}]}
    lamp: {terminals: {"58": "58", "31": mounting}, inside: []}
    """
)
PLACES = {"p": "old", "one": "lamp", "other": "lamp", "third": "lamp"}
BEFORE = Bench(PARTS, PLACES, ["p:A > one:58", "p:B > other:58", "p:C > third:58"])


def taken(*wires: str) -> dict[str, str | None]:
    after = BEFORE.changed(places={**PLACES, "p": "new"}, wires=wires).loom
    return terminals_taken(BEFORE.loom, after, "p", PARTS["new"])


def test_each_end_is_on_the_terminal_it_was_put_on() -> None:
    assert taken("p:X > one:58", "p:Y > other:58", "p:Y > third:58") == {"A": "X", "B": "Y", "C": "Y"}


def test_an_end_that_is_tied_back_is_on_none() -> None:
    assert taken("p:X > one:58", "loose > other:58", "p:Y > third:58") == {"A": "X", "B": None, "C": "Y"}


def test_a_joiner_before_a_terminal_counts_as_that_terminal() -> None:
    wires = ("joint:j > one:58", "joint:j > other:58", "p:Y > third:58", "joint:j > p:X")
    assert taken(*wires) == {"A": "X", "B": "X", "C": "Y"}


def test_ends_of_one_terminal_that_are_on_several_are_on_no_one() -> None:
    before = BEFORE.changed(wires=["p:A > one:58", "p:A > other:58"]).loom
    after = BEFORE.changed(places={**PLACES, "p": "new"}, wires=["p:X > one:58", "p:Y > other:58"]).loom
    assert terminals_taken(before, after, "p", PARTS["new"]) == {"A": None}


def test_a_wire_that_is_gone_is_on_none() -> None:
    before = BEFORE.loom
    after = copy_loom(before, wires=before.wires[1:])
    assert terminals_taken(before, after, "p", PARTS["old"]) == {"A": None, "B": "B", "C": "C"}
