"""Which facts a settled plan leans on without anybody having seen or measured them."""

from collections.abc import Iterator, Sequence

from planner.model.delta import Add, Cover, Cut, Insert, Join, Move, Operation, Step
from planner.model.job import Job
from planner.model.loom import Loom
from planner.model.need import LeansOn
from planner.model.reach import conductor


def leaned_on(before: Loom, steps: Sequence[Step], job: Job) -> tuple[LeansOn, ...]:
    """The assumed or unknown ends and places the plan leans on, each once, in the order of the steps.

    A step that moves, covers, cuts or joins an end leans on all ends of its wire, since what the conductor is
    follows from all of them; a new feed leans on the ends of the conductor it is taken from.
    """
    found: dict[LeansOn, None] = {}
    for swap in job.swaps:
        place = before.places.get(swap.at)
        if (place is not None and place.known == "assumed") or swap.known == "assumed":
            found[LeansOn(swap.at)] = None
    for step in steps:
        for wire in _wires_of(before, step.operation):
            record = before.find(wire)
            for number, end in enumerate(record.ends):
                if record.end_known(number) == "assumed" or end.at == "unknown":
                    found[LeansOn(end.at, wire, number)] = None
    return tuple(found)


def _wires_of(before: Loom, operation: Operation) -> Iterator[str]:
    """Wires of the loom before on which an operation leans."""
    if isinstance(operation, Move | Cut | Insert) or (isinstance(operation, Cover) and operation.wire):
        if operation.wire in before.wire_index:
            yield str(operation.wire)
    elif isinstance(operation, Join):
        yield from (wire for wire, _, _ in operation.ends if wire in before.wire_index)
    elif isinstance(operation, Add):
        for end in operation.wire.ends:
            for address in conductor(before, end.at):
                yield from (wire for wire, _ in before.ends_at.get(address, ()))
