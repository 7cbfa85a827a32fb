"""A load's table: every setting of what it hangs on, and where that is too much, of what counts."""

from collections.abc import Sequence
from math import prod

from planner.circuit.tree import Function, Projector
from planner.currents.sums import every_row
from planner.currents.table_of import MOST_ROWS, amps_at, table_of

IGNITION, ENGINE = 0, 1
SWITCHES = range(2, 14)  # of what the ignition feeds
SIZES = dict.fromkeys((IGNITION, ENGINE, *SWITCHES), 2)


def charge_lamp(projector: Projector, switches: Sequence[int]) -> Function:
    """A charge lamp: full with the ignition on and the engine stopped; with the ignition off and the engine
    turning it feeds whatever is switched on, and takes the more the more of it there is."""

    def through(number: int, on: int) -> Function:
        if number == len(switches):
            return projector.constant(0.1 * on / len(switches))
        return projector.branch(switches[number], (through(number + 1, on), through(number + 1, on + 1)))

    off, full = projector.constant(0.0), projector.constant(0.18)
    turning = through(0, 0)
    return projector.branch(
        IGNITION, (projector.branch(ENGINE, (off, turning)), projector.branch(ENGINE, (full, off)))
    )


def test_a_table_of_few_settings_tells_them_all() -> None:
    function = charge_lamp(Projector(), SWITCHES[:3])
    table = table_of(function, SIZES)
    assert set(table.scope) == function.support
    for row in every_row(table.scope, SIZES):
        assert table.rows[row] == amps_at(function, dict(zip(table.scope, row, strict=True)))


def test_of_too_many_it_tells_what_counts_where_the_load_takes_most() -> None:
    function = charge_lamp(Projector(), SWITCHES)
    assert prod(SIZES[v] for v in function.support) > MOST_ROWS
    assert table_of(function, SIZES).rows == {(0, 0): 0.0, (0, 1): 0.0, (1, 0): 0.18, (1, 1): 0.0}


def test_as_many_as_a_table_may_have_are_told_apart() -> None:
    projector = Projector()

    def total(number: int, amps: float) -> Function:
        if number == len(SWITCHES):
            return projector.constant(amps)
        least, most = (total(number + 1, amps + n * 2.0**-number) for n in (0, 1))
        return projector.branch(SWITCHES[number], (least, most))

    table = table_of(total(0, 0.0), SIZES)
    assert table.scope == tuple(SWITCHES[:9]) and len(table.rows) == 512 <= MOST_ROWS


def test_what_a_position_leaves_out_is_at_rest() -> None:
    function = charge_lamp(Projector(), SWITCHES)
    assert amps_at(function, {IGNITION: 1}) == 0.18
    assert amps_at(function, {ENGINE: 1, SWITCHES[0]: 1}) == 0.1 / len(SWITCHES)
