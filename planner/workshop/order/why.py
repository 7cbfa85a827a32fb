"""Why one step comes before another: the chain of demands from the one to the other."""

from collections import deque
from collections.abc import Sequence

from planner.model.bench_sheet import Demand


def chain(demands: Sequence[Demand], first: int, then: int) -> tuple[Demand, ...]:
    """The fewest demands that lead from one step to a later one; none if nothing demands it."""
    after: dict[int, list[Demand]] = {}
    for demand in demands:
        after.setdefault(demand.first, []).append(demand)
    came: dict[int, Demand] = {}
    waiting = deque([first])
    while waiting:
        here = waiting.popleft()
        for demand in after.get(here, ()):
            if demand.then not in came and demand.then != first:
                came[demand.then] = demand
                waiting.append(demand.then)
    found: list[Demand] = []
    while then != first:
        if then not in came:
            return ()
        found.append(came[then])
        then = came[then].first
    return tuple(reversed(found))
