"""Currents of which only those of live branches are kept, against all of them in a row."""

import random

import pytest

from planner.currents.amps import NO_AMPS, Amps


@pytest.mark.parametrize("seed", range(20))
def test_what_is_kept_of_live_branches_is_what_stands_in_the_row(seed: int) -> None:
    draw = random.Random(seed)
    row = [draw.choice([0.0, 0.0, draw.uniform(-9, 9)]) for _ in range(draw.randint(1, 30))]
    dense = Amps.of(row)
    sparse = Amps(dense.live, dense.own, len(row))
    assert dense.by_branch is row and sparse.by_branch is not row
    for amps in (dense, sparse):
        assert list(amps) == row and len(amps) == len(row) and amps[1:-1] == row[1:-1]
        assert [amps[index] for index in range(-len(row), len(row))] == row + row
        assert list(amps.live) == [index for index, own in enumerate(row) if own]
        with pytest.raises(IndexError):
            amps[len(row)]


def test_what_is_lack_of_digits_is_no_current() -> None:
    amps = Amps.of([NO_AMPS / 2, 2 * NO_AMPS, -2 * NO_AMPS])
    assert list(amps.live) == [1, 2] and Amps.of(amps) is amps
