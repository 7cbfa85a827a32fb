"""What is said of a terminal on which there are more push-ons than blades."""

import pytest
from small_work import FIT, PARTS, REMOVE, make_part, work_list

from planner.model.delta import Move, Piggyback
from planner.model.part import Terminal

BOX = "dash.box:a"
PLACES = {
    "dash.switch": {"part": "old", "zone": "dash", "title": "wiper switch, dash"},
    "dash.box": {"part": "bladed", "zone": "dash", "title": "fuse box"},
    "q": {"part": "fuse", "zone": "dash"},
}
ENDS = (("W2", 1, "dash.switch:M"), ("W1", 0, "dash.switch:15"), ("N1", 0, "q:5"), ("W3", 0, "dash.switch:S"))


@pytest.fixture(autouse=True)
def bladed(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal(fitting="blade-6.3", holds=2)
    bladed = make_part("bladed", ["a"]).model_copy(update={"terminals": {"a": terminal}})
    monkeypatch.setitem(PARTS, "bladed", bladed)


def said(ends: int, piggybacks: int) -> str:
    """What the step says that puts the last of some ends on a terminal of two blades."""
    moves = [Move(wire, end, was, BOX) for wire, end, was in ENDS[:ends]]
    work = work_list(REMOVE, FIT, *[Piggyback(BOX)] * piggybacks, *moves, places=PLACES)
    return next(step.text for step in work.steps() if "blades" in step.text)


def test_with_a_free_blade_for_each_nothing_is_shared() -> None:
    assert said(2, 0).endswith("a has 2 blades: this one on a free one, 2 are on it then")


def test_the_two_that_carry_least_share_the_piggyback() -> None:
    pair = "the green wire (N1) and the orange wire (W1), which carry least, on the piggyback"
    assert said(3, 1).endswith(f"{pair}, each other on a blade of its own")


def test_where_all_are_on_piggybacks_light_and_heavy_ones_share() -> None:
    """By size, where no amps are known: 1, 1, 1.5 and 1.5 mm2."""
    one = "the yellow/black wire (W3) with the yellow wire (W2)"
    other = "the green wire (N1) with the orange wire (W1)"
    assert said(4, 2).endswith(
        f"with a piggyback on each there is room for the 4 push-ons, {one} and {other}"
    )
