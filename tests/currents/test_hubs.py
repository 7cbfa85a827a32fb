"""Currents followed through a node where most branches carry none."""

import pytest

from planner.currents.laws import Emf, Resistance
from planner.currents.solver import Branch, solve_closed
from planner.currents.tracing import Flow, ends_of


@pytest.mark.parametrize("idle", [0, 3, 60])
def test_a_way_is_the_same_however_many_idle_branches_end_at_its_nodes(idle: int) -> None:
    branches = [
        Branch(("battery",), "30", "31", Emf(12.0, 0.1)),
        Branch(("feed",), "30", "hub", Resistance(0.1)),
        Branch(("lamp",), "lit", "hub", Resistance(5.0)),  # from its second node to its first
        Branch(("return",), "31", "lit", Resistance(0.1)),
        Branch(("other",), "hub", "31", Resistance(2.0)),
        *(Branch(("idle", str(n)), "hub", f"end{n}", Resistance(1.0)) for n in range(idle)),
        *(Branch(("open", str(n)), "31", "hub", Resistance(1.0)) for n in range(idle)),
    ]
    closed = range(len(branches) - idle)
    flow = Flow(branches, solve_closed(branches, closed, "31"), ends_of(branches))
    assert flow.before(2) == [1] and flow.after(2) == [3]
    assert flow.path(2) == ("30", "hub", "lit", "31")
    assert flow.shares(2) == {2: 1.0, 1: 1.0, 3: 1.0}
    assert flow.shares(4) == {4: 1.0, 1: 1.0}
