"""What hangs together by what is asked, and where something flows with everything at rest."""

from planner.currents.parts import NO_PART, Parts
from planner.currents.sums import Table

OFF = {(0,): 0.0, (1,): 2.0}


def test_variables_that_a_load_or_a_law_asks_together_are_one_part() -> None:
    loads = [Table((1, 2), {(a, b): 0.0 for a in (0, 1) for b in (0, 1)}), Table((5,), OFF)]
    parts = Parts(loads, [Table((2, 3), {(0, 0): 0.0, (1, 1): 0.0})])
    assert parts.of((1, 2)) == parts.of((3,)) == parts.of_variable(2)
    assert parts.of((5,)) != parts.of((1,))
    assert parts.of(()) == NO_PART


def test_only_where_something_flows_or_stirs_at_rest_is_restless() -> None:
    clock, lamp = Table((1,), {(0,): 0.1, (1,): 0.1}), Table((2,), OFF)
    pulled_at_rest = Table((3, 4), {(0, 1): 0.0, (1, 0): 0.0})
    parts = Parts([clock, lamp], [pulled_at_rest])
    assert parts.restless == {parts.of((1,)), parts.of((3,))}
