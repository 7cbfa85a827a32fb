"""The best pairing and all ways that are just as good, against trying every way."""

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.inquiry.kit.pairing import pair_up

SIZES = st.tuples(st.integers(0, 4), st.integers(0, 4))


def every_best_way(rows: int, columns: int, costs: dict[tuple[int, int], int]) -> list[dict[int, int | None]]:
    """Every way of the most pairs and, among these, the least cost, by trying all of them."""
    ways: dict[tuple, dict[int, int | None]] = {}
    places: list[int | None] = [*range(columns), *[None] * rows]
    for chosen in permutations(places, rows):
        way = dict(enumerate(chosen))
        if all(column is None or (row, column) in costs for row, column in way.items()):
            ways[tuple(chosen)] = way

    def weight(way: dict[int, int | None]) -> tuple[int, int]:
        pairs = [(row, column) for row, column in way.items() if column is not None]
        return -len(pairs), sum(costs[pair] for pair in pairs)

    least = min(map(weight, ways.values()))
    return [way for way in ways.values() if weight(way) == least]


@settings(max_examples=250)
@given(SIZES, st.data())
def test_the_choices_of_each_are_those_of_all_best_ways(sizes: tuple[int, int], data: st.DataObject) -> None:
    rows, columns = sizes
    pairs = [(row, column) for row in range(rows) for column in range(columns)]
    costs = {
        pair: cost for pair in pairs if (cost := data.draw(st.sampled_from([None, 0, 1, 2, 3]))) is not None
    }
    best = every_best_way(rows, columns, costs)
    found = pair_up(rows, columns, costs)
    assert found.choices == {row: {way[row] for way in best} for row in range(rows)}


def test_more_pairs_outweigh_less_cost() -> None:
    found = pair_up(2, 2, {(0, 0): 0, (0, 1): 50, (1, 0): 50})
    assert found.choices == {0: {1}, 1: {0}}
    assert found.is_settled(0)


def test_a_tie_is_told() -> None:
    found = pair_up(2, 1, {(0, 0): 3, (1, 0): 3})
    assert found.choices == {0: {0, None}, 1: {0, None}}
    assert not found.is_settled(0)
