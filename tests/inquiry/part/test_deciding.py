"""The reading to take next is the one that leaves the fewest explanations, counted one by one."""

from dataclasses import dataclass
from itertools import permutations
from math import inf
from typing import cast

from benches import asked
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.inquiry.part.deciding import best_reading
from planner.inquiry.part.explanation import Explanation

SPANS = ((0.0, 1.0), (0.5, 3.0), (50.0, 90.0), (inf, inf), (0.0, inf))


@dataclass(frozen=True)
class Foretelling:
    """What an explanation foretells, by the numbers of the terminals at the leads."""

    spans: dict[tuple[int, int], tuple[float, float]]

    def ohms(self, _: int, red: int, black: int) -> tuple[float, float]:
        return self.spans[red, black]


def foretelling(*spans: tuple[float, float]) -> Explanation:
    pairs = ((0, 1), (0, 2), (1, 2))
    both = dict(zip(pairs, spans, strict=True))
    return cast("Explanation", Foretelling(both | {pair[::-1]: span for pair, span in both.items()}))


JOINT, LOW, COIL, OPEN, _ = SPANS


def test_the_pair_on_which_most_differ_is_read_next() -> None:
    known = [foretelling(JOINT, OPEN, JOINT), foretelling(OPEN, OPEN, COIL), foretelling(OPEN, OPEN, OPEN)]
    best = best_reading(asked([("rest", "A", "B", "closed")], "C"), known)
    assert best is not None
    assert {best.red, best.black} == {"B", "C"}
    assert best.left == 1.0
    assert sorted(best.answers) == [(JOINT, 1), (COIL, 1), (OPEN, 1)]


def test_nothing_is_read_next_where_all_foretell_what_overlaps() -> None:
    known = [foretelling(JOINT, OPEN, OPEN), foretelling(LOW, OPEN, OPEN)]
    assert best_reading(asked([("rest", "A", "B", "closed")], "C"), known) is None


@settings(max_examples=100)
@given(st.lists(st.tuples(*[st.sampled_from(SPANS)] * 3), min_size=2, max_size=6))
def test_no_other_reading_leaves_fewer(spans: list[tuple[tuple[float, float], ...]]) -> None:
    known = [foretelling(*each) for each in spans]
    left = []
    for red, black in permutations(range(3), 2):
        found = [e.ohms(0, red, black) for e in known]
        left.append(sum(a[0] <= b[1] and b[0] <= a[1] for a in found for b in found) / len(found))
    best = best_reading(asked([("rest", "A", "B", "closed")], "C"), known)
    if best is None:
        assert min(left) > len(known) - 1e-6
    else:
        assert abs(best.left - min(left)) < 1e-9
