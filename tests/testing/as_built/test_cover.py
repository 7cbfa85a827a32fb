"""The smallest cover against every choice of random sets, and its bound where the search is cut short."""

import random
from itertools import combinations

from planner.testing.as_built.cover import Cover


def drawn(dice: random.Random, sets: int, things: int) -> list[int]:
    return [dice.getrandbits(things) & dice.getrandbits(things) for _ in range(sets)]


def brute(sets: list[int]) -> int:
    whole = 0
    for own in sets:
        whole |= own
    for count in range(len(sets) + 1):
        for some in combinations(sets, count):
            held = 0
            for own in some:
                held |= own
            if held == whole:
                return count
    raise AssertionError


def test_no_choice_is_smaller_and_it_holds_everything() -> None:
    dice = random.Random(7)
    for _ in range(150):
        sets = drawn(dice, dice.randint(1, 9), dice.randint(1, 12))
        cover = Cover(sets)
        held = whole = 0
        for number in cover.best:
            held |= sets[number]
        for own in sets:
            whole |= own
        assert held == whole
        assert len(cover.best) == cover.at_least == brute(sets)


def test_what_has_nothing_in_common_is_chosen_apart() -> None:
    """Twenty copies of one hard choice side by side: together they would take their product of tries."""
    dice = random.Random(15)
    sets = drawn(dice, 9, 12)
    side_by_side = [own << 12 * copy for copy in range(20) for own in sets]
    one, twenty = Cover(sets), Cover(side_by_side)
    assert len(twenty.best) == twenty.at_least == 20 * brute(sets)
    assert one.nodes > 1 and twenty.nodes == 20 * one.nodes


def test_a_search_that_is_cut_short_tells_a_bound_that_holds() -> None:
    dice = random.Random(11)
    cut_short = 0
    for _ in range(60):
        sets = drawn(dice, 9, 14)
        cover = Cover(sets, most_nodes=1)
        assert cover.at_least <= brute(sets) <= len(cover.best)
        cut_short += cover.at_least < len(cover.best)
    assert cut_short > 0


def test_nothing_to_show_takes_nothing() -> None:
    assert Cover([0, 0]).best == [] and Cover([]).at_least == 0
