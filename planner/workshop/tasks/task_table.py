"""The tasks of a work by what they do: which terminals an end comes on, and which it leaves."""

from collections.abc import Iterator

from planner.model.delta import Add, Cover, Cut, Extend, Fit, Hold, Insert, Join, Move, ReEnd, Remove, Renew
from planner.workshop.tasks.task import Task, is_pull
from planner.workshop.tasks.tasks import Work


class TaskTable:
    """The tasks by what they do, each with its number."""

    def __init__(self, work: Work) -> None:
        self.work = work
        self.tasks = list(enumerate(work.tasks))
        self.removed = {t.operation.at: n for n, t in self.tasks if isinstance(t.operation, Remove)}
        self.fitted = {t.operation.at: n for n, t in self.tasks if isinstance(t.operation, Fit)}
        self.held = {
            (t.operation.wire, t.operation.end): n for n, t in self.tasks if isinstance(t.operation, Hold)
        }
        self.arrivals = [(n, at) for n, t in self.tasks for at in self._arrives(t)]
        self.leavings = [(n, at) for n, t in self.tasks for at in self._leaves(t)]

    def _arrives(self, task: Task) -> Iterator[str]:
        """Yield the terminals on which a task puts an end."""
        operation = task.operation
        if isinstance(operation, Move):
            yield operation.to
        elif isinstance(operation, Add) and not is_pull(task, self.work.tasks):
            ends = self.work.after.find(operation.wire.wire).ends
            yield from (e.at for n, e in enumerate(ends) if task.end in (None, n))
        elif isinstance(operation, Renew):
            yield from operation.ends
        elif isinstance(operation, Insert):
            yield from (at for at in [self._lead_goes_to(operation)] if at != self.was_at(operation))

    def _leaves(self, task: Task) -> Iterator[str]:
        """Yield the terminals that a task takes an end off."""
        operation = task.operation
        if isinstance(operation, Move):
            if (operation.wire, operation.end) not in self.held:
                yield operation.was
        elif isinstance(operation, Hold) or (isinstance(operation, Cover) and operation.wire is not None):
            yield operation.at
        elif isinstance(operation, Cut):
            yield operation.was
        elif isinstance(operation, Insert):
            was = self.was_at(operation)
            if was and was != self._lead_goes_to(operation):
                yield was
        elif isinstance(operation, Join):
            yield from operation.addresses

    def works_at(self, task: Task) -> tuple[str, ...]:
        """Where a task is done, and where the end that it works on came from."""
        operation = task.operation
        addresses = operation.addresses
        if isinstance(operation, ReEnd | Extend | Insert):
            addresses = (*addresses, *filter(None, [self.was_at(operation)]))
        return addresses

    def was_at(self, operation: ReEnd | Extend | Insert) -> str | None:
        """Where the end that it works on was before the work; None for an end of a new wire."""
        return self.work.before.end_address(operation.wire, operation.end)

    def _lead_goes_to(self, operation: Insert) -> str:
        """Where the lead of a part in line goes: as a rule to where the end was."""
        return self.work.after.find(operation.lead.wire).ends[-1].at
