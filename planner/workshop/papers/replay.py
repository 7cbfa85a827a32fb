"""The work as it is done, step by step: what each task does to the vehicle as it then stands.

The operations of a plan stand in the order in which it was settled, some of them made void by later ones.
Here each task of the work list has its own, so that a vehicle on which half the steps are done is known, and
every step can be taken back.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from planner.model.delta import (
    Add,
    ChangeFuse,
    Cover,
    Cut,
    Extend,
    Fit,
    Hold,
    Insert,
    Join,
    Move,
    Operation,
    ReEnd,
    Remove,
    Renew,
)
from planner.model.loom import Loom
from planner.workshop.tasks.task import Task, is_pull, puts_on
from planner.workshop.tasks.tasks import Work

LOOSE = "loose"


@dataclass(frozen=True, slots=True)
class Done:
    """What one task does to a vehicle, and the vehicle after it."""

    task: Task
    operations: tuple[Operation, ...]
    after: Loom


def replay(work: Work, ordered: Sequence[Task]) -> tuple[Done, ...]:
    """Every task in order, each applied to what the ones before left."""
    loom = work.before
    done: list[Done] = []
    for number, task in enumerate(ordered):
        operations: list[Operation] = []
        for off in _taken_off(work, task, ordered[number + 1 :], loom):
            operations.append(off)
            loom = off.apply(loom)
        for operation in _as_done(work, task, loom):
            operations.append(operation)
            loom = operation.apply(loom)
        done.append(Done(task, tuple(operations), loom))
    return tuple(done)


def _taken_off(work: Work, task: Task, later: Sequence[Task], loom: Loom) -> Iterator[Move]:
    """Yield the taking off of ends that are crimped, lengthened or laid anew, and go on in a later step."""
    operation = task.operation
    if isinstance(operation, ReEnd | Extend):
        worked_on: tuple[int, ...] = (operation.end,)
    elif isinstance(operation, Renew):
        worked_on = (operation.first, operation.last)
    else:
        return
    wire = str(task.wire)
    if wire not in work.before.wire_index:
        return
    for end in worked_on:
        if any(_puts_on(work, other, wire, end) for other in later):
            yield from _off(wire, end, loom)


def _puts_on(work: Work, task: Task, wire: str, end: int) -> bool:
    """Whether a task puts an end of an old wire on, by itself or with the part on which it stays."""
    if isinstance(task.operation, Fit):
        stays = work.stays.get(task.operation.at, ())
        return (wire, end) in {(move.wire, move.end) for move in stays}
    return puts_on(task, wire, end)


def _as_done(work: Work, task: Task, loom: Loom) -> Iterator[Operation]:
    """Yield the operations of a task on a vehicle as it stands."""
    operation = task.operation
    if isinstance(operation, Add):
        yield _new_wire(work, task, operation, loom)
    elif isinstance(operation, Hold):
        yield from _off(operation.wire, operation.end, loom)
    elif isinstance(operation, Remove):
        mine = f"{operation.at}:"
        yield replace(
            operation,
            ends=tuple(loom.ends_of_place(operation.at)),
            piggybacks=tuple(at for at in loom.piggybacks if at.startswith(mine)),
            covered=tuple(at for at in loom.covered if at.startswith(mine)),
            fuses=tuple((at, amps) for at, amps in loom.fuses.items() if at.startswith(mine)),
        )
    elif isinstance(operation, Fit):
        yield operation
        for move in work.stays.get(operation.at, ()):
            yield _on(move.wire, move.end, move.to, loom)
    elif isinstance(operation, Move):
        yield _on(operation.wire, operation.end, operation.to, loom)
    elif isinstance(operation, Cover) and operation.wire is not None:
        yield from _off(operation.wire, operation.end or 0, loom)
        yield operation
    elif isinstance(operation, Join):
        for wire, end, _ in operation.ends:
            yield from _off(wire, end, loom)
        yield operation
    elif isinstance(operation, Cut):
        yield from _off(operation.wire, operation.end, loom)
        yield operation
    elif isinstance(operation, ReEnd):
        yield replace(operation, old=loom.find(operation.wire).ends[operation.end].fitting)
    elif isinstance(operation, Extend):
        longer = loom.find(operation.wire)
        spare = longer.ends[operation.end].spare_metres
        yield replace(operation, old_spare=spare, old_metres=longer.metres)
    elif isinstance(operation, Renew):
        yield replace(operation, old=loom.find(operation.wire).mm2)
        for other in task.along:
            yield _on(other.wire, other.end, other.to, loom) if isinstance(other, Move) else other
    elif isinstance(operation, Insert):
        yield from _in_line(work, operation, loom)
    elif isinstance(operation, ChangeFuse):
        yield replace(operation, old=loom.fuses.get(operation.at))
    else:
        yield operation


def _on(wire: str, end: int, to: str, loom: Loom) -> Move:
    """An end put on a terminal from wherever it is now."""
    now = loom.find(wire).ends[end]
    return Move(wire, end, now.at, to, now.at, uncovers=now.covered)


def _off(wire: str, end: int, loom: Loom) -> Iterator[Move]:
    """Yield the taking off of an end, if it is on something."""
    now = loom.find(wire).ends[end].at
    if now != LOOSE:
        yield Move(wire, end, now, LOOSE, now)


def _in_line(work: Work, operation: Insert, loom: Loom) -> Iterator[Operation]:
    """Yield how a part goes in line: at the end of a new wire it is there first, and the wire goes on it."""
    lead = work.after.find(operation.lead.wire)
    if operation.wire in work.before.wire_index:
        was = loom.find(operation.wire).ends[operation.end].at
        yield replace(operation, was=was, lead=lead)
    else:
        yield Fit(operation.at, operation.place)
        yield Add(lead, None)


def _new_wire(work: Work, task: Task, operation: Add, loom: Loom) -> Operation:
    """A new wire with the ends on that this task puts on; in a later go, the other end."""
    name = operation.wire.wire
    wire = work.after.find(name)
    ends = wire.ends
    if name in loom.wire_index:
        assert task.end is not None
        return _on(name, task.end, ends[task.end].at, loom)
    on = () if is_pull(task, work.tasks) else range(len(ends)) if task.end is None else (task.end,)
    placed = tuple(e if n in on else e.model_copy(update={"at": LOOSE}) for n, e in enumerate(ends))
    return Add(wire.model_copy(update={"ends": placed}), operation.role, operation.tagged)
