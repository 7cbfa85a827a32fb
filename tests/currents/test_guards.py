"""What holds in a position, told from what holds at rest, is what each guard says of the position."""

import random

import pytest

from planner.circuit.fitted import Guard
from planner.currents.grid import Gated, Grid, is_met
from planner.currents.laws import Resistance
from planner.currents.solver import Branch

VALUES = ("off", "low", "high")


def drawn(chance: random.Random, variables: list[str]) -> Guard:
    """A guard of one variable or of several."""
    asked = chance.sample(variables, chance.choice([1, 1, 2, 3]))
    return tuple((name, frozenset(chance.sample(VALUES, chance.randint(1, 2)))) for name in asked)


@pytest.mark.parametrize("seed", range(30))
def test_only_what_has_moved_is_asked_again(seed: int) -> None:
    chance = random.Random(seed)
    variables = [f"v{number}" for number in range(5)]
    guards: list[Guard] = [(), *(drawn(chance, variables) for _ in range(12))]
    grid = Grid("e", tuple(Gated(Branch(("x",), "a", "e", Resistance(1.0)), guard) for guard in guards), {})
    rest = dict.fromkeys(variables, VALUES[0])
    at_rest = grid.met(rest)
    for _ in range(20):
        moved = {name: chance.choice(VALUES) for name in chance.sample(variables, chance.randint(0, 5))}
        position = {**rest, **moved}
        met = grid.met_where(moved, rest, at_rest)
        assert met == grid.met(position)
        assert met == bytes(is_met(guard, position) for guard in grid.guards)
