"""The choice on tiny jobs against trying every combination of proposals and every chain of repairs."""

import random
from collections.abc import Sequence

import pytest
from choice import Bench, Where, lost, without_repairs

from planner.model.need import Fault

MARKS = "xyz"
POOL = (
    lost("head lamp", "head"),
    Fault("changed", "tail lamp", "p", "tail"),
    Fault("unintended", "stop lamp", "p", "stop"),
    lost("radio", share=0.25),
    lost("heater", share=0.5),
    Fault("unintended", "fan", "p"),
    Fault("missing", "clock", "p"),
    Fault("hazard", "short", "p:x", hazard="short"),
)


def random_bench(seed: int) -> Bench:
    """Up to three ends, up to three homes each, faults and repairs by chance."""
    chance = random.Random(seed)
    wires = "ABC"[: chance.randint(1, 3)]
    homes = {
        w: [m + chance.choice(["", "+"]) for m in chance.sample(MARKS, chance.randint(1, len(MARKS)))]
        for w in wires
    }
    repairs = {
        fault.what: [(chance.choice(wires), chance.choice(MARKS)) for _ in range(chance.randint(0, 2))]
        for fault in POOL
    }

    def faults(where: Where) -> Sequence[Fault]:
        return random.Random(f"{seed} {sorted(where.items())}").sample(POOL, chance_of(where))

    def chance_of(where: Where) -> int:
        return random.Random(f"{seed} {sorted(where.items())} how many").choice([0, 1, 1, 2, 3])

    return Bench(wires, homes, repairs, faults)


@pytest.mark.parametrize("seed", range(100))
def test_of_all_ways_to_settle_the_ends_the_lightest_is_taken(seed: int) -> None:
    bench = without_repairs(random_bench(seed))
    choice = bench.settle()
    assert choice.is_proven_cheapest
    assert choice.chosen.weight == bench.least_weight()


@pytest.mark.parametrize("seed", range(100))
def test_with_repairs_a_plan_that_is_called_cheapest_is_the_lightest(seed: int) -> None:
    bench = random_bench(seed)
    choice = bench.settle()
    if choice.is_proven_cheapest:
        assert choice.chosen.weight == bench.least_weight()


@pytest.mark.parametrize("seed", range(100))
def test_no_plan_is_lighter_than_the_lightest_of_all_ways(seed: int) -> None:
    """What the engine finds is one of the ways, never something better that nobody proposed."""
    bench = random_bench(seed)
    assert bench.settle().chosen.weight >= bench.least_weight()


@pytest.mark.parametrize("seed", range(30))
def test_a_loom_is_judged_once_however_it_is_reached(seed: int) -> None:
    bench = random_bench(seed)
    choice = bench.settle()
    assert len(bench.judged) == len(set(bench.judged)) == choice.looms_judged
