"""Small things in stock: what fits is taken, what fits fewest sizes first, and no more than there are."""

import pytest
from pydantic import ValidationError

from planner.model.bench_sheet import Use
from planner.model.job import StockThing
from planner.workshop.materials.shelf import Shelf

BLADE = "blade-6.3"


def terminal(count: int = 1, *mm2: float, fitting: str = BLADE) -> StockThing:
    return StockThing(kind="terminal", fitting=fitting, mm2=mm2, count=count)


def test_pieces_are_taken_as_long_as_there_are_some() -> None:
    shelf = Shelf([terminal(2, 1, 1.5)])
    assert shelf.uses([7, 3, 5], terminal(1, 1.5)) == (Use(3, 1, 1), Use(5, 1, 1), Use(7, 1, 0))


def test_a_terminal_that_takes_any_size_is_kept_for_what_nothing_else_fits() -> None:
    shelf = Shelf([terminal(1), terminal(1, 1.5)])
    assert shelf.uses([1], terminal(1, 1.5))[0].on_hand == 1
    assert shelf.uses([2], terminal(1, 4))[0].on_hand == 1


@pytest.mark.parametrize("other", [terminal(9, 2.5), terminal(9, 1.5, fitting="blade-4.8")])
def test_another_size_or_fitting_is_not_taken(other: StockThing) -> None:
    assert Shelf([other]).uses([1], terminal(1, 1.5)) == (Use(1, 1, 0),)


def test_a_fuse_is_taken_by_its_amps_and_a_joiner_by_its_ways() -> None:
    shelf = Shelf([StockThing(kind="fuse", amps=10, count=1), StockThing(kind="joiner", ways=3)])
    assert shelf.uses([1], StockThing(kind="fuse", amps=10))[0].on_hand == 1
    assert shelf.uses([1], StockThing(kind="fuse", amps=10))[0].on_hand == 0
    assert shelf.uses([1], StockThing(kind="joiner", ways=2))[0].on_hand == 0


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"kind": "terminal"}, "a terminal in stock needs its fitting"),
        ({"kind": "fuse"}, "a fuse in stock needs its amps"),
        ({"kind": "sleeve", "amps": 5}, "a sleeve in stock has no amps"),
    ],
)
def test_a_kind_says_what_it_needs_and_no_more(said: dict[str, object], words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        StockThing.model_validate(said)
