"""The joiners that a work makes, and the steps that put ends into each."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.model.delta import Add, Cut, Insert, Join, Move, Operation
from planner.model.joiners import is_new_joiner, stud_mm2
from planner.workshop.task import Task, is_pull
from planner.workshop.tasks import Work


@dataclass(frozen=True, slots=True)
class Joiner:
    """A joiner: how many ends it takes, and the steps that put them in."""

    ways: int
    steps: tuple[int, ...]
    stud_mm2: float | None  # its thickest wire, where it has to be a stud


def new_joiners(work: Work, ordered: Sequence[Task]) -> Mapping[str, Joiner]:
    """The joiners of a work by their addresses, without those that a cut leaves in a wire."""
    after = work.after
    cuts = {task.operation.joint for task in ordered if isinstance(task.operation, Cut)}
    steps: dict[str, list[int]] = {}
    for number, task in enumerate(ordered, 1):
        for at in dict.fromkeys(_into(work, task, ordered)):
            steps.setdefault(at, []).append(number)
    return {
        at: Joiner(len(ends), tuple(steps[at]), stud_mm2(after, at))
        for at, ends in after.ends_at.items()
        if is_new_joiner(work.before, at) and at not in cuts and at in steps
    }


def _into(work: Work, task: Task, ordered: Sequence[Task]) -> Iterator[str]:
    """Yield where a task puts ends."""
    operation: Operation
    for operation in (task.operation, *task.along):
        if isinstance(operation, Join):
            yield operation.joint
        elif isinstance(operation, Move):
            yield operation.to
        elif isinstance(operation, Insert):
            yield work.after.find(operation.lead.wire).ends[-1].at
        elif isinstance(operation, Add) and not is_pull(task, ordered):
            ends = work.after.find(operation.wire.wire).ends
            yield from (end.at for n, end in enumerate(ends) if task.end in (None, n))
