"""What is left of networks once the fuses that do not bear them have gone: nobody reads volts before that."""

from collections.abc import Mapping, Sequence

from planner.currents.solver import Branch, Point
from planner.testing.mistakes.mistake import BranchName
from planner.testing.page.points import solve_sets


def with_fuses_gone(
    sets: Sequence[Sequence[Branch]], zero: str, blows_at: Mapping[BranchName, float]
) -> list[tuple[Point, bool]]:
    """The operating point of each set of branches, and whether a fuse has gone by then.

    One fuse goes at a time: of two in a row the weaker one opens in milliseconds, and spares the other.
    """
    found: dict[int, tuple[Point, bool]] = {}
    waiting, blown = dict(enumerate(sets)), set[int]()
    while waiting:
        left: dict[int, Sequence[Branch]] = {}
        solved_now = solve_sets(list(waiting.values()), zero)
        for (number, branches), point in zip(waiting.items(), solved_now, strict=True):
            found[number] = point, number in blown
            gone = _goes_first(branches, point, blows_at)
            if gone is not None:
                blown.add(number)
                left[number] = [*branches[:gone], *branches[gone + 1 :]]
        waiting = left
    return [found[number] for number in range(len(sets))]


def _goes_first(branches: Sequence[Branch], point: Point, blows_at: Mapping[BranchName, float]) -> int | None:
    """The place among branches of the fuse that has most to bear, if it is more than it can."""
    shares = {
        n: abs(amps) / blows_at[branch.name]
        for n, (branch, amps) in enumerate(zip(branches, point.amps, strict=True))
        if branch.name in blows_at
    }
    worst = max(shares, key=shares.__getitem__, default=None)
    return worst if worst is not None and shares[worst] > 1.0 else None
