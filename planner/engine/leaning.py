"""Which facts a settled plan leans on without anybody having seen or measured them."""

from collections.abc import Iterator, Mapping, Sequence

from planner.model.delta import Add, Cover, Cut, Insert, Join, Move, Operation, Step
from planner.model.job import Job
from planner.model.loom import Loom, split_address
from planner.model.need import LeansOn
from planner.model.part import Part
from planner.model.reach import conductor


def leaned_on(
    before: Loom, steps: Sequence[Step], job: Job, parts: Mapping[str, Part]
) -> tuple[LeansOn, ...]:
    """The assumed or unknown ends and places the plan leans on, each once, in the order of the steps.

    A step that moves, covers, cuts or joins an end leans on all ends of its wire, since what the conductor is
    follows from all of them: if one is assumed, the reading is taken at the end the step handles. A new wire
    leans on the ends of the conductor it is taken from; if it has none, on the terminal, where it is only
    assumed what is fitted there. What goes from one plain contact to another leans on nothing: whatever the
    two wires are, the contact lies between them as before.
    """
    carried = _carried_over(before, steps, job, parts)
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
                elif record.end_known(number) == "assumed" and (wire, handled) not in carried:
                    here = number if handled is None else handled
                    found[LeansOn(record.ends[here].at, wire, here)] = None
        if isinstance(step.operation, Add):
            found |= dict.fromkeys(LeansOn(at) for at in _bare_terminals(before, step.operation, job))
    return tuple(found)


def _carried_over(
    before: Loom, steps: Sequence[Step], job: Job, parts: Mapping[str, Part]
) -> set[tuple[str, int | None]]:
    """The ends that are on plain contacts before and after, one on each side: two on one may be two feeds."""
    moves = [step.operation for step in steps if isinstance(step.operation, Move)]
    found: set[tuple[str, int | None]] = set()
    for swap in job.swaps:
        there = before.places.get(swap.at)
        pair = [parts.get(name) for name in (there.part if there else "", swap.fit)]
        if not all(part is not None and part.is_plain_contact for part in pair):
            continue
        ends = [(wire, end, f"{swap.at}:{mark}") for wire, end, mark in before.ends_of_place(swap.at)]
        now = {(wire, end): at for wire, end, at in ends}
        now |= {(m.wire, m.end): m.to for m in moves if (m.wire, m.end) in now}
        sides = {(at, now[wire, end]) for wire, end, at in ends}
        is_one_each = len(ends) == len({old for old, _ in sides}) == len({new for _, new in sides})
        if is_one_each and all(split_address(new)[0] == swap.at for _, new in sides):
            found |= set(now)
    return found


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
