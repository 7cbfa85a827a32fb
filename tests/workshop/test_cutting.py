"""Cutting wire from stock lengths: as much as can be, with the least left over, proved against a bound."""

from collections.abc import Sequence
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.model.bench_sheet import CuttingPlan
from planner.workshop.materials.cutting import cutting_plan, left_at_least

CM = st.integers(1, 60)


def plan(pieces: Sequence[float], stock: Sequence[float], most_tried: int = 200_000) -> CuttingPlan:
    return cutting_plan("BK", 1.5, [(f"N{n}", m) for n, m in enumerate(pieces, 1)], stock, most_tried)


def every_way(pieces: Sequence[int], stock: Sequence[int]) -> tuple[int, int, int]:
    """The least to buy, then left over, then lengths cut into, of all ways there are."""
    costs = []
    for way in product(range(-1, len(stock)), repeat=len(pieces)):
        used = [sum(p for p, at in zip(pieces, way, strict=True) if at == n) for n in range(len(stock))]
        if all(u <= length for u, length in zip(used, stock, strict=True)):
            opened = [n for n, u in enumerate(used) if u]
            bought = sum(p for p, at in zip(pieces, way, strict=True) if at == -1)
            costs.append((bought, sum(stock[n] - used[n] for n in opened), len(opened)))
    return min(costs)


@settings(max_examples=80)
@given(st.lists(CM, min_size=1, max_size=5), st.lists(CM, max_size=3))
def test_no_way_buys_less_or_leaves_less_or_cuts_into_fewer(pieces: list[int], stock: list[int]) -> None:
    found = plan([cm / 100 for cm in pieces], [cm / 100 for cm in stock])
    bought = sum(round(100 * metres) for _, metres in found.to_buy)
    assert (bought, round(100 * found.left_metres), len(found.cuts)) == every_way(pieces, stock)
    assert found.is_proven and found.left_at_least <= found.left_metres


@settings(max_examples=40)
@given(st.lists(CM, min_size=1, max_size=6), st.lists(CM, max_size=4), st.integers(1, 5))
def test_every_piece_is_cut_or_bought_and_no_length_is_cut_longer_than_it_is(
    pieces: list[int], stock: list[int], most_tried: int
) -> None:
    found = plan([cm / 100 for cm in pieces], [cm / 100 for cm in stock], most_tried)
    cut = [piece for cut in found.cuts for piece in cut.pieces]
    assert sorted(name for name, _ in (*cut, *found.to_buy)) == sorted(
        f"N{n + 1}" for n in range(len(pieces))
    )
    assert all(cut.left_metres >= 0 for cut in found.cuts)


def test_two_pieces_that_fill_a_length_are_cut_from_it_and_the_long_one_stays_whole() -> None:
    found = plan([0.6, 0.4], [3.0, 1.0])
    assert [(c.stock_metres, c.left_metres) for c in found.cuts] == [(1.0, 0.0)]
    assert (found.left_metres, found.left_at_least, found.to_buy) == (0.0, 0.0, ())


def test_what_fits_nowhere_is_bought() -> None:
    found = plan([2.0, 0.5], [0.6])
    assert found.to_buy == (("N1", 2.0),) and found.cuts[0].pieces == (("N2", 0.5),)


def test_the_bound_is_what_the_best_set_of_lengths_leaves() -> None:
    """0.9 m from lengths of 0.8, 0.7 and 0.5: 0.7 and 0.5 leave 0.3, no set leaves less."""
    assert left_at_least([80, 70, 50], 90) == 30
    assert plan([0.5, 0.4], [0.8, 0.7, 0.5]).left_metres == 0.3


def test_a_search_that_stops_early_is_not_called_proven() -> None:
    pieces = [0.31, 0.29, 0.27, 0.25, 0.23, 0.21]
    assert not plan(pieces, [0.8, 0.79, 0.78], most_tried=8).is_proven


def test_without_stock_everything_is_bought() -> None:
    found = plan([0.5], [])
    assert (found.cuts, found.to_buy, found.is_proven) == ((), (("N1", 0.5),), True)
