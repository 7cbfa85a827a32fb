"""What stands wherever it was left: the cam of a motor, a stepping relay; no reading takes that for granted.

With the battery off nobody brings them elsewhere, so what hangs on them is not read. A live motor runs home
by itself, a relay is stepped on: then the test says where it has to stand.
"""

from collections.abc import Iterator, Mapping

from planner.circuit.network import Variable
from planner.currents.grid import Position
from planner.proof.facts import LASTING


def left_anywhere(variables: Mapping[str, Variable]) -> tuple[str, ...]:
    """The variables of a vehicle that stand wherever they were left."""
    return tuple(name for name, variable in variables.items() if variable.kind in LASTING)


def elsewhere(variables: Mapping[str, Variable], position: Position) -> Iterator[tuple[str, Position]]:
    """Yield each of them with a position in which it alone stands elsewhere."""
    for name in left_anywhere(variables):
        for value in variables[name].values:
            if value != position[name]:
                yield name, {**position, name: value}
