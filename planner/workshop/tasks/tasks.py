"""From settled operations to tasks: what is done in one go at one place.

An end that stays on its mark belongs to fitting the part and is no task; of an end that is moved twice only
the last word counts. A new wire is made with the terminals that it has in the end. One that goes from one
place to another is made and put on at the one, and put on at the other when one is there; behind trim it is
pulled first and put on at both ends afterwards.
"""

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from typing import TypeGuard

from planner.model.delta import (
    Add,
    ChangeFuse,
    EndRef,
    Extend,
    Insert,
    Make,
    Move,
    Operation,
    Reason,
    ReEnd,
    Remove,
    Step,
    last_words,
)
from planner.model.job import Job
from planner.model.loom import Loom, split_address
from planner.model.routes import wire_length
from planner.workshop.tasks.laid_anew import done_along, is_part_of_fit, laid_anew
from planner.workshop.tasks.places import Places
from planner.workshop.tasks.task import Task


@dataclass(frozen=True)
class Work:
    """The tasks of a plan in the order of its settling, and what is done along with them."""

    before: Loom
    after: Loom
    tasks: tuple[Task, ...]
    places: Places
    swapped: tuple[str, ...] = ()  # the places of the job's swaps, then those that a remedy empties
    made: Mapping[str, Make] = field(default_factory=dict)  # by the wire's name in the plan
    stays: Mapping[str, tuple[Move, ...]] = field(default_factory=dict)  # ends that stay on, by place
    first_fuses: Mapping[str, ChangeFuse] = field(default_factory=dict)
    anew: frozenset[EndRef] = frozenset()  # ends of wires that are laid anew: they go on with the new wire


def gather(before: Loom, after: Loom, steps: Sequence[Step], job: Job) -> Work:
    """The tasks of settled steps."""
    last = last_words(steps)
    made = {s.operation.wire.wire: s for s in steps if isinstance(s.operation, Make)}
    for operation in (step.operation for step in last):
        if isinstance(operation, ReEnd) and operation.wire in made:
            made[operation.wire] = _cut_anew(made[operation.wire])
    # A fuse that is changed twice is changed once, from what was in before the work.
    fuses: dict[str, ChangeFuse] = {}
    for step in steps:
        if isinstance(step.operation, ChangeFuse):
            fuses.setdefault(step.operation.at, step.operation)
    in_line = {(s.operation.wire, s.operation.end) for s in last if isinstance(s.operation, Insert)}
    worked_on: dict[str, list[Reason]] = {}
    stays: dict[str, list[Move]] = {}
    anew = laid_anew(before, last)
    for step in last:
        if _is_of_a_new_wire(step.operation, before) or _is_on_the_way(step.operation, in_line):
            worked_on.setdefault(step.operation.wire, []).append(step.why)
        elif is_part_of_fit(step.operation) and (step.operation.wire, step.operation.end) not in anew:
            stays.setdefault(split_address(step.operation.was)[0], []).append(step.operation)
    # A part that a remedy takes out is worked on like those that the job swaps, after them.
    taken_out = [step.operation.at for step in steps if isinstance(step.operation, Remove)]
    swapped = tuple(dict.fromkeys((*(swap.at for swap in job.swaps), *taken_out)))
    places = Places(before, after, [step.operation for step in last])
    tasks: list[Task] = []
    for step in last:
        operation = step.operation
        if (
            (isinstance(operation, Move | ReEnd | Extend) and (operation.wire, operation.end) in anew)
            or isinstance(operation, Make)
            or is_part_of_fit(operation)
            or _is_of_a_new_wire(operation, before)
            or _is_on_the_way(operation, in_line)
            or _is_put_back(operation, fuses)
        ):
            continue
        if isinstance(operation, Add):
            name = operation.wire.wire
            tasks += _goes(step, made.get(name), tuple(worked_on.get(name, ())), after, places)
        else:
            along = done_along(operation, last, anew)
            whys: tuple[Reason, ...] = ()
            if isinstance(operation, Insert):
                names = dict.fromkeys((operation.lead.wire, operation.wire))
                whys = tuple(why for name in names for why in worked_on.get(name, ()))
            whys += tuple(other.why for other in along)
            at = places.of_operation(operation)
            tasks.append(Task(step, at, None, None, whys, tuple(other.operation for other in along)))
    tasks.sort(key=lambda task: swapped.index(task.at) if task.at in swapped else len(swapped))
    return Work(
        before,
        after,
        tuple(tasks),
        places,
        swapped,
        {name: step.operation for name, step in made.items() if isinstance(step.operation, Make)},
        {place: tuple(ends) for place, ends in stays.items()},
        fuses,
        anew,
    )


def _cut_anew(made: Step) -> Step:
    """How a wire is made that needs another terminal: a finished lead with the wrong one is none."""
    assert isinstance(made.operation, Make)
    return replace(made, operation=replace(made.operation, lead=None))


def _goes(
    step: Step, made: Step | None, whys: tuple[Reason, ...], after: Loom, places: Places
) -> Iterator[Task]:
    """Yield in how many goes a new wire is put on: one, one at each place, or pulled through before."""
    assert isinstance(step.operation, Add)
    ends = after.find(step.operation.wire.wire).ends
    first, last = places.of_ends(ends[0].at, ends[-1].at)
    if wire_length(after, ends[0].at, ends[-1].at)[1]:
        yield Task(step, first or last, None, made, whys)
    elif not (first and last) or first == last:
        yield Task(step, first or last, None, made, whys)
        return
    if first:
        yield Task(step, first, 0, made, whys)
    if last:
        yield Task(step, last, len(ends) - 1, made, whys)


def _is_of_a_new_wire(operation: Operation, before: Loom) -> TypeGuard[Move | ReEnd]:
    """Whether it works on an end of a wire that the plan adds: that is made at once as it is in the end."""
    return isinstance(operation, Move | ReEnd) and operation.wire not in before.wire_index


def _is_on_the_way(operation: Operation, in_line: Set[EndRef]) -> TypeGuard[Move]:
    """Whether it puts an end where a part then goes between: the end goes on that part at once."""
    return isinstance(operation, Move) and (operation.wire, operation.end) in in_line


def _is_put_back(operation: Operation, fuses: Mapping[str, ChangeFuse]) -> bool:
    """Whether a later word on a fuse is that the first one stays in after all."""
    if not isinstance(operation, ChangeFuse):
        return False
    first = fuses[operation.at]
    return first is not operation and first.printed == operation.amps
