"""Which facts a settled plan leans on without anybody having seen or measured them."""

from collections.abc import Iterator, Sequence

from planner.model.delta import Add, Cover, Cut, Insert, Join, Move, Operation, Step
from planner.model.job import Job
from planner.model.loom import Loom, split_address
from planner.model.need import LeansOn
from planner.model.reach import conductor


def leaned_on(before: Loom, steps: Sequence[Step], job: Job) -> tuple[LeansOn, ...]:
    """The assumed or unknown ends and places the plan leans on, each once, in the order of the steps.

    A step that moves, covers, cuts or joins an end leans on all ends of its wire, since what the conductor is
    follows from all of them: if one is assumed, the reading is taken at the end the step handles. A new wire
    leans on the ends of the conductor it is taken from; if it has none, on the terminal, where it is only
    assumed what is fitted there.
    """
    found: dict[LeansOn, None] = {}
    for swap in job.swaps:
        place = before.places.get(swap.at)
        if (place is not None and place.known == "assumed") or swap.known == "assumed":
            found[LeansOn(swap.at)] = None
    for step in steps:
        for wire, handled in _wires_of(before, step.operation):
            record = before.find(wire)
            for number, end in enumerate(record.ends):
                if end.at == "unknown":
                    found[LeansOn(end.at, wire, number)] = None
                elif record.end_known(number) == "assumed":
                    here = number if handled is None else handled
                    found[LeansOn(record.ends[here].at, wire, here)] = None
        if isinstance(step.operation, Add):
            found |= dict.fromkeys(LeansOn(at) for at in _bare_terminals(before, step.operation, job))
    return tuple(found)


def _bare_terminals(before: Loom, operation: Add, job: Job) -> Iterator[str]:
    """Terminals without a wire that a new one goes to, of parts that stay and are only assumed."""
    for end in operation.wire.ends:
        place = before.places.get(split_address(end.at)[0])
        swapped = any(swap.at == split_address(end.at)[0] for swap in job.swaps)
        if place is not None and place.known == "assumed" and not swapped and end.at not in before.ends_at:
            yield end.at


def _wires_of(before: Loom, operation: Operation) -> Iterator[tuple[str, int | None]]:
    """Wires of the loom before on which an operation leans, each with the end it handles, if it does."""
    if isinstance(operation, Move | Cut | Insert) or (isinstance(operation, Cover) and operation.wire):
        if operation.wire in before.wire_index:
            yield str(operation.wire), operation.end
    elif isinstance(operation, Join):
        yield from ((wire, end) for wire, end, _ in operation.ends if wire in before.wire_index)
    elif isinstance(operation, Add):
        for end in operation.wire.ends:
            for address in conductor(before, end.at):
                yield from ((wire, None) for wire, _ in before.ends_at.get(address, ()))
