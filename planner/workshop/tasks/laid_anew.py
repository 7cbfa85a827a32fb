"""What falls to the step that lays a wire anew: its ends are crimped and put on there."""

from collections.abc import Sequence
from typing import TypeGuard

from planner.model.delta import EndRef, Extend, Move, Operation, ReEnd, Renew, Step
from planner.model.loom import Loom


def laid_anew(before: Loom, steps: Sequence[Step]) -> frozenset[EndRef]:
    """The ends of old wires whose every leg is laid anew: they are crimped where the wire is made."""
    found: set[EndRef] = set()
    for operation in (step.operation for step in steps):
        if isinstance(operation, Renew) and operation.wire in before.wire_index:
            legs = range(operation.first, operation.last)
            last = len(before.find(operation.wire).ends) - 1
            found |= {
                (operation.wire, end)
                for end in range(operation.first, operation.last + 1)
                if (end == 0 or end - 1 in legs) and (end == last or end in legs)
            }
    return frozenset(found)


def done_along(operation: Operation, steps: Sequence[Step], anew: frozenset[EndRef]) -> list[Step]:
    """What falls to laying a wire anew: new terminals, more length, where its ends go."""
    if not isinstance(operation, Renew):
        return []
    ends = {(operation.wire, end) for end in (operation.first, operation.last)} & anew
    found = [s for s in steps if isinstance(s.operation, Move | ReEnd | Extend)]
    return [s for s in found if (getattr(s.operation, "wire", ""), getattr(s.operation, "end", 0)) in ends]


def is_part_of_fit(operation: Operation) -> TypeGuard[Move]:
    """Whether it puts an end on the mark on which it was: that belongs to fitting the part."""
    return isinstance(operation, Move) and operation.was == operation.to
