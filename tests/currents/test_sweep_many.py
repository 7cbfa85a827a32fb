"""Searched for together, a column each, the heaviest settings are those searched for one by one."""

import random

import numpy as np
import pytest
from test_heaviest import drawn, sums_of

from planner.currents.heaviest import Search

COLUMNS = 7


@pytest.mark.parametrize("seed", range(150))
def test_together_the_same_settings_are_found(seed: int) -> None:
    """Among whole numbers there are ties, settings that cannot be, and laws that nothing obeys."""
    draw = random.Random(seed)
    sizes, laws = drawn(draw)
    some = [tuple(sorted(draw.sample(list(sizes), min(len(sizes), n)))) for n in (1, 2, 3)]
    scopes = list(dict.fromkeys(some))
    asked = [sums_of(draw, sizes, scopes) for _ in range(COLUMNS)]
    together = {scope: np.array([sums[scope] for sums in asked]).T for scope in scopes}
    search = Search(sizes)
    found = search.heaviest_of_each(together, laws, COLUMNS)
    assert found == [Search(sizes).heaviest(sums, laws) for sums in asked]


def test_one_that_cannot_be_does_not_keep_the_others_from_being_found() -> None:
    never, first, second = [-np.inf, -np.inf], [1.0, 0.0], [0.0, 1.0]
    found = Search({0: 2}).heaviest_of_each({(0,): np.array([never, first, second]).T}, [], 3)
    assert found == [None, {0: 0}, {0: 1}]
