"""The order of tasks: demands kept, and never more changes of place than the best of all orders has."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.workshop.order.order import Order, Spot, arrange

Demands = Sequence[tuple[int, int]]


def spots(places: str, zones: str = "") -> list[Spot]:
    """One task at each place named by a letter; the zone of each by another, one for all if not given."""
    return [Spot(place, zones[n : n + 1], 0) for n, place in enumerate(places)]


def walked(order: Order) -> str:
    return "".join(place for place, _ in order.visits)


def every_order(count: int, demands: Demands, done: tuple[int, ...] = ()) -> Iterator[tuple[int, ...]]:
    """Yield every order that keeps the demands."""
    if len(done) == count:
        yield done
    for n in range(count):
        if n not in done and all(first in done for first, then in demands if then == n):
            yield from every_order(count, demands, (*done, n))


def changes(values: Sequence[str]) -> int:
    return sum(1 for _ in groupby(values)) - 1


@st.composite
def jobs(draw: st.DrawFn) -> tuple[list[Spot], Demands]:
    """Up to seven tasks at up to four places of two zones, with demands that can all be kept."""
    count = draw(st.integers(1, 7))
    zone = {place: draw(st.sampled_from("xy")) for place in "ABCD"}
    places = [draw(st.sampled_from("ABCD")) for _ in range(count)]
    rank = st.integers(0, 2)
    pairs = [(a, b) for a in range(count) for b in range(count) if a != b]
    shuffled = draw(st.permutations(range(count)))
    chosen = draw(st.lists(st.sampled_from(pairs), max_size=8)) if pairs else []
    demands = [(a, b) for a, b in chosen if shuffled[a] < shuffled[b]]
    return [Spot(place, zone[place], draw(rank)) for place in places], demands


@settings(max_examples=60)
@given(jobs())
def test_no_order_has_fewer_changes_of_place_and_among_those_of_zone(job: tuple[list[Spot], Demands]) -> None:
    tasks, demands = job
    order = arrange(tasks, demands)
    best = min(
        (changes([tasks[n].place for n in tried]), changes([tasks[n].zone for n in tried]))
        for tried in every_order(len(tasks), demands)
    )
    assert order.is_proven and order.at_least == order.changes == best[0]
    assert changes([tasks[n].zone for n in order.tasks]) == best[1]


@settings(max_examples=60)
@given(jobs(), st.sampled_from([1, 3, 20_000]))
def test_every_demand_is_kept_however_soon_the_search_stops(
    job: tuple[list[Spot], Demands], most_states: int
) -> None:
    tasks, demands = job
    order = arrange(tasks, demands, most_states)
    turn = {task: number for number, task in enumerate(order.tasks)}
    assert sorted(turn) == list(range(len(tasks)))
    assert all(turn[first] < turn[then] for first, then in demands)
    assert order.at_least <= order.changes


def test_all_that_can_be_done_at_a_place_is_done_before_one_goes_on() -> None:
    assert walked(arrange(spots("ABAB"), [])) == "AB"


def test_a_place_is_come_back_to_only_where_a_demand_sends_one_back() -> None:
    there_and_back = arrange(spots("ABA"), [(0, 1), (1, 2)])
    assert (walked(there_and_back), there_and_back.changes, there_and_back.at_least) == ("ABA", 2, 2)


def test_the_first_place_is_the_one_that_saves_coming_back() -> None:
    """Task 0 at A waits for B; who begins at A comes back."""
    assert walked(arrange(spots("AAB"), [(2, 0)])) == "BA"


def test_places_of_one_part_of_the_vehicle_are_visited_together() -> None:
    assert walked(arrange(spots("ABCD", "xyxy"), [])) == "ACBD"


def test_at_a_place_the_lower_rank_comes_first_and_a_demand_outranks_it() -> None:
    tasks = [Spot("A", "", 2), Spot("A", "", 1), Spot("A", "", 0)]
    assert arrange(tasks, []).tasks == (2, 1, 0)
    assert arrange(tasks, [(0, 2)]).tasks == (1, 0, 2)


def test_a_search_that_stops_early_says_what_it_is_proved_against() -> None:
    order = arrange(spots("ABCDABCD"), [(4, 1), (5, 2), (6, 3)], most_states=2)
    assert not order.is_proven and order.at_least == 3 <= order.changes


def test_nothing_to_do_is_no_visit() -> None:
    assert arrange([], []) == Order((), 0, True)


def test_many_places_with_ways_between_them_are_still_proven() -> None:
    """Twenty-five places in five zones, each place waiting for a part of an earlier one: no coming back."""
    tasks = [Spot(f"p{n // 2}", f"z{n // 2 % 5}", 0) for n in range(50)]
    order = arrange(tasks, [(2 * n, 2 * ((n * 7 + 3) % 25) + 1) for n in range(20) if n < (n * 7 + 3) % 25])
    assert order.is_proven and order.changes == order.at_least == 24
